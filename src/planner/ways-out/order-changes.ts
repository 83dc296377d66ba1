/** Small changes of an order that keep precedence: an activity along its crew's line, a whole house ahead of others. */
import { MINUTES_PER_DAY } from "../../domain/time.js";
import type { Problem } from "../core/problem.js";
import type { Genome } from "../core/search.js";
import { endOf, startOf } from "./focus.js";
import type { Solved } from "./recovery.js";

/**
 * An activity as many places earlier (negative) or later on its crew's line, as far as precedence and what is fixed let
 * it; null where it cannot move.
 */
export function moveInLine(
  problem: Problem,
  { order, staffing }: Genome,
  fixed: ReadonlySet<number>,
  activity: number,
  by: number,
): Genome | null {
  const { activities } = problem;
  const crewsOf = (index: number): Int32Array =>
    activities[index]?.staffings[staffing[index] ?? 0] ?? new Int32Array();
  const own = new Set([...crewsOf(activity)].filter((crew) => crew >= 0));
  const neighbours = by < 0 ? activities[activity]?.after : activities[activity]?.followers;
  const at = order.indexOf(activity);
  const step = Math.sign(by);
  let left = Math.abs(by);
  let to = at;
  for (let place = at + step; place >= 0 && place < order.length && left > 0; place += step) {
    const other = order[place] ?? -1;
    if (neighbours?.includes(other) || fixed.has(other)) break;
    if (!crewsOf(other).some((crew) => own.has(crew))) continue;
    to = place;
    left -= 1;
  }
  if (to === at) return null;
  const moved = order.slice();
  if (to < at) moved.copyWithin(to + 1, to, at);
  else moved.copyWithin(at, at + 1, to + 1);
  moved[to] = activity;
  return { order: moved, staffing };
}

/** Everything of a late house ahead of what starts before it by up to a day more than the house is late. */
export function hurryJob(
  problem: Problem,
  solved: Solved,
  { order, staffing }: Genome,
  fixed: ReadonlySet<number>,
  site: number,
): Genome | null {
  const { activities } = problem;
  let late = 0;
  for (const [index, activity] of activities.entries())
    if (activity.site === site) late = Math.max(late, endOf(solved, index) - activity.due);
  if (late <= 0) return null;
  const keys = Float64Array.from(activities, (activity, index) => {
    const start = startOf(solved, index);
    return activity.site === site && !fixed.has(index) ? start - late - MINUTES_PER_DAY : start;
  });
  const place = new Int32Array(activities.length);
  order.forEach((activity, at) => (place[activity] = at));
  // What is left out has no start: it stays at the end, in its order.
  const compare = (a: number, b: number): number =>
    keys[a] === keys[b] ? (place[a] ?? 0) - (place[b] ?? 0) : (keys[a] ?? 0) - (keys[b] ?? 0);
  return { order: order.toSorted(compare), staffing };
}
