/** The line about a search that goes on. */
import { expect, it } from "vitest";
import { writePlanningLine } from "../../src/board/planning-line.js";

it.each([
  [{ iteration: 0, cost: 16_860, fromCost: 16_860 }, "Looking for a better plan…"],
  [{ iteration: 1, cost: 16_860, fromCost: 16_860 }, "Improving the plan… 1 try, cost 16,860"],
  [
    { iteration: 1_240, cost: 14_120.4, fromCost: 16_860 },
    "Improving the plan… 1,240 tries, cost 16,860 → 14,120",
  ],
  // A search that starts from nothing is at first behind the plan that it is to better.
  [{ iteration: 7, cost: 17_000, fromCost: 16_860 }, "Improving the plan… 7 tries, cost 16,860"],
  // Cheaper by less than can be seen.
  [{ iteration: 7, cost: 16_859.9, fromCost: 16_860 }, "Improving the plan… 7 tries, cost 16,860"],
])("says how far it is (%o)", (counts, line) => {
  expect(writePlanningLine(counts)).toBe(line);
});
