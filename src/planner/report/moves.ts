/**
 * Moves: a crew goes to work at another house while something that it has begun at the house it leaves is not finished
 * (reading 23).
 */
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";

/** The moves of one crew. */
export function countMoves(problem: Problem, timeline: Timeline, crew: number): number {
  // Work is added behind what a crew has: only in the gap of a hold does anything come between.
  if (timeline.gaps[crew]?.length === 0) return 0;
  const visits = timeline.visits[crew] ?? [];
  let unfinished: ReadonlyMap<number, readonly Span[]> | undefined;
  let moves = 0;
  for (let index = 1; index < visits.length; index++) {
    const left = visits[index - 1];
    if (!left || left.site === visits[index]?.site) continue;
    unfinished ??= spansBySite(problem, timeline, crew);
    const at = left.leave;
    if (unfinished.get(left.site)?.some((span) => span.start < at && span.end > at)) moves++;
  }
  return moves;
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** From when to when a crew is at each activity that it works on, by site. */
function spansBySite(
  problem: Problem,
  timeline: Timeline,
  crew: number,
): ReadonlyMap<number, readonly Span[]> {
  const spans = new Map<number, Span[]>();
  const seen = new Set<number>();
  for (const { site, items } of timeline.visits[crew] ?? []) {
    for (const item of items) {
      const activity = problem.activityOf[item.task] ?? -1;
      if (seen.has(activity)) continue;
      seen.add(activity);
      let start = Infinity;
      let end = -Infinity;
      for (const task of problem.activities[activity]?.tasks ?? []) {
        if (timeline.crewOf[task] !== crew) continue;
        start = Math.min(start, timeline.startOf[task] ?? 0);
        end = Math.max(end, timeline.endOf[task] ?? 0);
      }
      const own = spans.get(site);
      if (own) own.push({ start, end });
      else spans.set(site, [{ start, end }]);
    }
  }
  return spans;
}
