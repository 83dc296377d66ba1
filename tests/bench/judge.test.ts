/** Which answers of a search count, and what is said of those that do not. */
import { describe, expect, it } from "vitest";
import { openProblem } from "../../src/planner/core/open-problem.js";
import { READERS } from "./families.js";
import { judge } from "./judge.js";
import { SMALL_INSTANCES, SMALL_SHOP, type SmallInstance } from "./small-instances.js";

/** The schedule found by hand, as a search would give it. */
function answerOf({ family, text, optimal, optimum }: SmallInstance) {
  const instance = READERS[family]("small", text);
  const problem = openProblem(instance.input);
  const staffing = problem.activities.map(({ staffings }, task) =>
    staffings.findIndex((crews) => crews[0] === optimal.crews[task]),
  );
  const best = {
    cost: optimum,
    tie: 0,
    starts: Int32Array.from(optimal.starts),
    ends: Int32Array.from(optimal.ends),
    genome: { order: new Int32Array(staffing.length), staffing: Int32Array.from(staffing) },
  };
  return { instance, problem, best };
}

const TEN = { kind: "schedules", schedules: 10 } as const;

describe("an answer", () => {
  it.each(SMALL_INSTANCES)("counts where its schedule keeps all rules ($family)", (small) => {
    const { instance, problem, best } = answerOf(small);
    expect(judge(instance, problem, { best, schedules: 10 }, TEN)).toEqual({
      makespan: small.optimum,
      schedules: 10,
      faults: [],
    });
  });

  it("does not count where the schedule breaks a rule of the file", () => {
    const { instance, problem, best } = answerOf(SMALL_SHOP);
    const early = { ...best, starts: Int32Array.of(2, 4, 0, 2), ends: Int32Array.of(5, 6, 2, 5), cost: 6 };
    expect(judge(instance, problem, { best: early, schedules: 1 }, TEN).faults).toEqual([
      "operation 2 of job 1 starts at 4, before the one before it ends at 5",
      "crew 2 starts task 2 at 4, but is at task 4 until 5",
    ]);
  });

  it("does not count where the search says another cost than its schedule has", () => {
    const { instance, problem, best } = answerOf(SMALL_SHOP);
    expect(judge(instance, problem, { best: { ...best, cost: 6 }, schedules: 1 }, TEN).faults).toEqual([
      "the search says 6, its schedule ends at 7",
    ]);
  });

  it("does not count where more schedules were decoded than allowed", () => {
    const { instance, problem, best } = answerOf(SMALL_SHOP);
    expect(judge(instance, problem, { best, schedules: 11 }, TEN).faults).toEqual([
      "11 schedules were decoded, 10 were allowed",
    ]);
  });
});
