/**
 * What no schedule of a problem on lines can beat: the longest path, and the work that only some crews can do shared
 * out among them. Where a schedule meets it, the search is done.
 */
import type { LineProblem } from "./line-problem.js";

/** A lower bound of the makespan, in whole minutes; tasks must be given in an order that respects precedence. */
export function findBound(problem: LineProblem, order: Int32Array): number {
  const { count, before, behind, release, options } = problem;
  const shortest = new Int32Array(count);
  const head = Int32Array.from(release);
  const rest = new Int32Array(count);
  for (let task = 0; task < count; task++) {
    shortest[task] = Math.min(...options.value.subarray(options.from[task], options.from[task + 1]));
  }
  let bound = 0;
  for (const task of order) {
    for (let edge = before.from[task] as number; edge < (before.from[task + 1] as number); edge++) {
      const ahead = before.item[edge] as number; // proof, here and below: rows cover all tasks
      const ready = (head[ahead] as number) + (shortest[ahead] as number) + (before.value[edge] as number);
      head[task] = Math.max(head[task] as number, ready);
    }
    bound = Math.max(bound, (head[task] as number) + (shortest[task] as number));
  }
  for (const task of order.toReversed()) {
    for (let edge = behind.from[task] as number; edge < (behind.from[task + 1] as number); edge++) {
      const next = behind.item[edge] as number;
      const longest = (rest[next] as number) + (shortest[next] as number) + (behind.value[edge] as number);
      rest[task] = Math.max(rest[task] as number, longest);
    }
  }
  const crews = Array.from({ length: count }, (_, task) => [
    ...new Set(options.item.subarray(options.from[task], options.from[task + 1]).toSorted()),
  ]);
  const pools = new Map(crews.filter((own) => !own.includes(-1)).map((own) => [own.join(), own]));
  for (const pool of pools.values()) {
    const within = [...order].filter((task) => crews[task]?.every((crew) => pool.includes(crew)));
    const work = within.reduce((sum, task) => sum + (shortest[task] as number), 0);
    const earliest = Math.min(...within.map((task) => head[task] as number));
    const latest = Math.min(...within.map((task) => rest[task] as number));
    bound = Math.max(bound, earliest + Math.ceil(work / pool.length) + latest);
  }
  return bound;
}
