/**
 * Where a slip hurts: the activities of houses that are late, and what waits longer than in the standing plan. These are
 * what is worth changing.
 */
import type { Recovery, Solved } from "./recovery.js";

/** Activities that are looked at, at most. */
const MOST = 60;

/**
 * Activities of late houses, the worst house first, in turn with those that are later than they were, the soonest first;
 * without waits and without `fixed`.
 */
export function listFocus(recovery: Recovery, solved: Solved, fixed: ReadonlySet<number>): readonly number[] {
  const { activities } = solved.problem;
  const lateOfSite = new Map<number, number>();
  const delayed: { readonly activity: number; readonly start: number }[] = [];
  for (const [index, activity] of activities.entries()) {
    const late = (endOf(solved, index) - activity.due) * activity.weight;
    if (late > 0) lateOfSite.set(activity.site, Math.max(late, lateOfSite.get(activity.site) ?? 0));
    const start = startOf(solved, index);
    if (start > (recovery.held.starts[index] ?? 0)) delayed.push({ activity: index, start });
  }
  const late = [...activities.entries()]
    .flatMap(([activity, { site }]) => {
      const byWhat = lateOfSite.get(site);
      return byWhat === undefined ? [] : [{ activity, late: byWhat, start: startOf(solved, activity) }];
    })
    .sort((a, b) => b.late - a.late || a.start - b.start || a.activity - b.activity);
  delayed.sort((a, b) => a.start - b.start || a.activity - b.activity);
  const focus = new Set<number>();
  for (let place = 0; place < Math.max(late.length, delayed.length) && focus.size < MOST; place++) {
    for (const one of [late[place], delayed[place]]) {
      if (one && !fixed.has(one.activity) && activities[one.activity]?.kind !== "wait")
        focus.add(one.activity);
    }
  }
  return [...focus];
}

/** First start of an activity's tasks; Infinity where it is not placed. */
export function startOf({ problem, timeline }: Solved, activity: number): number {
  if (!timeline.placed[activity]) return Infinity;
  let start = Infinity;
  for (const task of problem.activities[activity]?.tasks ?? [])
    start = Math.min(start, timeline.startOf[task] ?? Infinity);
  return start;
}

/** Last end of an activity's tasks; 0 where it is not placed. */
export function endOf({ problem, timeline }: Solved, activity: number): number {
  if (!timeline.placed[activity]) return 0;
  let end = 0;
  for (const task of problem.activities[activity]?.tasks ?? [])
    end = Math.max(end, timeline.endOf[task] ?? 0);
  return end;
}
