/** Lines of crews: how they are filled and changed, and that ends and tails are longest paths. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toLineProblem } from "../../../../src/planner/core/lines/line-problem.js";
import { LineSchedule } from "../../../../src/planner/core/lines/line-schedule.js";
import { openProblem } from "../../../../src/planner/core/open-problem.js";
import { Random } from "../../../../src/planner/core/random.js";
import "../../../support/property-seed.js";
import { drawGenome, lineInput } from "./line-choices.js";

/** Ends and tails by relaxing all edges until nothing changes. */
function listPathsNaively(schedule: LineSchedule): { readonly end: number[]; readonly tail: number[] } {
  const { problem, minutes, next } = schedule;
  const edges: { readonly from: number; readonly to: number; readonly lag: number }[] = [];
  for (let task = 0; task < problem.count; task++) {
    const { from, item, value } = problem.before;
    for (let edge = from[task] ?? 0; edge < (from[task + 1] ?? 0); edge++) {
      edges.push({ from: item[edge] ?? -1, to: task, lag: value[edge] ?? 0 });
    }
    if ((next[task] ?? -1) >= 0) edges.push({ from: task, to: next[task] ?? -1, lag: 0 });
  }
  const end = Array.from(problem.release, (release, task) => release + (minutes[task] ?? 0));
  const tail = Array.from(minutes);
  for (let round = 0; round < problem.count; round++) {
    for (const { from, to, lag } of edges) {
      end[to] = Math.max(end[to] ?? 0, (end[from] ?? 0) + lag + (minutes[to] ?? 0));
      tail[from] = Math.max(tail[from] ?? 0, (tail[to] ?? 0) + lag + (minutes[from] ?? 0));
    }
  }
  return { end, tail };
}

describe("LineSchedule", () => {
  it("knows ends, tails and the makespan as longest paths, also after a task has moved", () => {
    fc.assert(
      fc.property(lineInput(12), fc.nat(), (input, seed) => {
        const random = new Random(seed);
        const schedule = new LineSchedule(toLineProblem(openProblem(input)));
        const { order, staffing } = drawGenome(input, random);
        schedule.fill(order, staffing);
        expect(schedule.recompute()).toBe(true);
        for (let round = 0; round < 2; round++) {
          const { end, tail } = listPathsNaively(schedule);
          expect([...schedule.end]).toEqual(end);
          expect([...schedule.tail]).toEqual(tail);
          expect(schedule.makespan).toBe(Math.max(...end));
          // The last task of an order may go to the end of any line.
          const task = order.at(-1) ?? 0;
          const { options } = schedule.problem;
          const from = options.from[task] ?? 0;
          const option = from + random.below((options.from[task + 1] ?? 0) - from);
          schedule.remove(task);
          schedule.insert(task, option, schedule.last[options.item[option] ?? -1] ?? -1);
          expect(schedule.recompute()).toBe(true);
        }
      }),
    );
  });

  it("reports a circle of lines and precedence", () => {
    const crews = [{ crew: 0, minutes: 2 }];
    const plain = { crews, fixedMinutes: 0, equipment: [], notBefore: 0 };
    const problem = openProblem({
      crewCount: 1,
      equipmentCount: [],
      tasks: [
        { ...plain, after: [] },
        { ...plain, after: [{ task: 0, lagMinutes: 0 }] },
      ],
    });
    const schedule = new LineSchedule(toLineProblem(problem));
    schedule.fill(Int32Array.of(1, 0), Int32Array.of(0, 0));
    expect(schedule.recompute()).toBe(false);
  });
});
