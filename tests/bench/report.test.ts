/** What the bench prints of a set. */
import { describe, expect, it } from "vitest";
import { PUBLISHED_SETS } from "./published-sets.js";
import { formatFaults, formatSets, listFaults } from "./report.js";
import { scoreSet } from "./score.js";

const [J30] = PUBLISHED_SETS;
if (J30 === undefined) throw new Error("The first set is j30.");

const RUN = { budget: { kind: "schedules", schedules: 5000 }, barPercent: 0.05 } as const;

function scoreOf(available: number, faults: readonly string[]) {
  if (J30 === undefined) throw new Error("The first set is j30.");
  const bestKnown = { instance: "j301_1", lowerBound: 43, upperBound: 43 };
  const solved = { makespan: 43, schedules: 5000, seconds: 0.25, faults };
  return scoreSet(J30, RUN, available, [{ bestKnown, criticalPathMinutes: 38, solved }]);
}

describe("the table of sets", () => {
  it("has a line with mean, worst, bar and whether it is met", () => {
    expect(
      formatSets([scoreOf(1, [])])
        .split("\n")
        .slice(2),
    ).toEqual([
      "psplib-j30          1  5,000 schedules   0.000  best known     0.00  j301_1                 1   0.05  yes     0.25",
    ]);
  });

  it("says where only a sample was measured", () => {
    expect(formatSets([scoreOf(336, [])])).toContain("1 of 336");
    expect(formatSets([scoreOf(336, [])])).toContain("yes (sample)");
  });

  it("lists each refused answer with its reason", () => {
    const score = scoreOf(1, ["activity 4 takes 3 and not 2", "another"]);
    expect(formatSets([score])).toContain("no (1 refused)");
    expect(formatFaults(listFaults([score], []))).toBe(
      "1 answers do not count:\n  psplib-j30, 5,000 schedules, j301_1: activity 4 takes 3 and not 2 (and 1 more)",
    );
  });
});
