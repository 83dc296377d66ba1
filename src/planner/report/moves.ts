/**
 * Moves: a crew goes to work at another house while something that it has begun at the house it leaves is not finished
 * (reading 23).
 */
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";

export function countMoves(problem: Problem, timeline: Timeline): number {
  const unfinished = spansByCrewAndSite(problem, timeline);
  let moves = 0;
  for (const [crew, visits] of timeline.visits.entries()) {
    let left: (typeof visits)[number] | undefined;
    for (const next of visits) {
      if (left && left.site !== next.site) {
        const at = left.leave;
        const spans = unfinished.get(crew * problem.siteCount + left.site) ?? [];
        if (spans.some((span) => span.start < at && span.end > at)) moves++;
      }
      left = next;
    }
  }
  return moves;
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** From when to when each crew is at each activity, by crew and site. */
function spansByCrewAndSite(problem: Problem, timeline: Timeline): ReadonlyMap<number, readonly Span[]> {
  const spans = new Map<number, Span[]>();
  const add = (crew: number, site: number, span: Span): void => {
    const own = spans.get(crew * problem.siteCount + site);
    if (own) own.push(span);
    else spans.set(crew * problem.siteCount + site, [span]);
  };
  for (const { site, tasks } of problem.activities) {
    const byCrew = new Map<number, { start: number; end: number }>();
    for (const task of tasks) {
      const crew = timeline.crewOf[task] ?? -1;
      const start = timeline.startOf[task] ?? 0;
      const end = timeline.endOf[task] ?? 0;
      const known = byCrew.get(crew);
      if (crew < 0) continue;
      if (!known) byCrew.set(crew, { start, end });
      else {
        known.start = Math.min(known.start, start);
        known.end = Math.max(known.end, end);
      }
    }
    for (const [crew, span] of byCrew) add(crew, site, span);
  }
  return spans;
}
