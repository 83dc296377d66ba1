/** A task in open time that takes some of one kind of equipment: a lift. */
import type { OpenTimeTask } from "../../src/planner/core/open-problem.js";

export function liftTask(minutes: number, amount: number, after: readonly number[] = []): OpenTimeTask {
  return {
    crews: [],
    fixedMinutes: minutes,
    equipment: [{ equipment: 0, amount }],
    after: after.map((index) => ({ task: index, lagMinutes: 0 })),
    notBefore: 0,
  };
}
