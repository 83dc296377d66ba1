/**
 * What no schedule in open time can beat: the longest path, and for each equipment the work that it has to carry. A
 * search whose best meets the bound is done.
 */
import type { ScheduleDecoder } from "../schedule-decoder.js";
import type { Problem } from "../problem.js";

/** A lower bound of the makespan, in minutes. */
export function findLowerBound(
  { tasks, equipmentCount }: Problem,
  { staffings, tails }: ScheduleDecoder,
): number {
  let bound = Math.max(0, ...tails);
  tasks.forEach(({ bounds }, task) => {
    const release = Math.max(0, ...bounds.map(({ minute }) => minute));
    bound = Math.max(bound, release + (tails[task] ?? 0));
  });
  const shortest = tasks.map((_, task) =>
    Math.min(...staffings.value.subarray(staffings.from[task], staffings.from[task + 1])),
  );
  for (const [equipment, count] of equipmentCount.entries()) {
    let work = 0;
    tasks.forEach((task, index) => {
      for (const use of task.equipment) {
        if (use.equipment === equipment) work += use.amount * (shortest[index] ?? 0);
      }
    });
    if (count > 0) bound = Math.max(bound, Math.ceil(work / count));
  }
  return bound;
}
