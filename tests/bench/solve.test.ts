/** The way of an instance through the bench: description, search, verified answer. */
import { describe, expect, it } from "vitest";
import { READERS } from "./families.js";
import { SMALL_INSTANCES } from "./small-instances.js";
import { solve } from "./solve.js";

describe("solving an instance", () => {
  it.each(SMALL_INSTANCES)("finds the optimum of a small one ($family)", ({ family, text, optimum }) => {
    const solved = solve(READERS[family]("small", text), { kind: "schedules", schedules: 200 }, 1);
    expect(solved.faults).toEqual([]);
    expect(solved.makespan).toBe(optimum);
    expect(solved.schedules).toBeLessThanOrEqual(200);
  });

  it("takes seconds as a budget too", () => {
    const [small] = SMALL_INSTANCES;
    if (small === undefined) throw new Error("There is a small instance.");
    const solved = solve(READERS[small.family]("small", small.text), { kind: "seconds", seconds: 0.05 }, 1);
    expect(solved.faults).toEqual([]);
    expect(solved.makespan).toBe(small.optimum);
  });
});
