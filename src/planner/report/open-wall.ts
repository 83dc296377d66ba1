/**
 * When each unit of a chain is open: from the start of its first opener's work to the end of its last closer's.
 */
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import type { Visit } from "../core/visit.js";

export interface OpenUnit {
  readonly activity: number;
  readonly unit: number;
  readonly open: number;
  readonly close: number;
}

/** The units that may be open when a crew leaves, or overnight. */
export function listOpenUnits(problem: Problem, timeline: Timeline): readonly OpenUnit[] {
  const someStandOpen = problem.activities.some((activity) => activity.chain?.openAtStart.includes(true));
  // With no open nights a unit is closed in the visit that opens it: nothing to find.
  if (problem.openNights === 0 && !someStandOpen) return [];
  const units = new Map<string, { activity: number; unit: number; open: number; close: number }>();
  for (const visits of timeline.visits) {
    for (const item of visits.flatMap((visit) => visit.items)) {
      if (item.unit < 0) continue;
      const activity = problem.activityOf[item.task] ?? -1;
      const facts = problem.activities[activity];
      const place = facts?.tasks.indexOf(item.task) ?? -1;
      if (!facts?.chain) continue;
      const key = `${activity}/${item.unit}`;
      const known = units.get(key);
      const unit = known ?? {
        activity,
        unit: item.unit,
        open: facts.chain.openAtStart[item.unit] ? problem.start : Infinity,
        close: -Infinity,
      };
      if (facts.chain.opener[place]) unit.open = Math.min(unit.open, item.start);
      if (facts.chain.closer[place]) unit.close = Math.max(unit.close, item.end);
      units.set(key, unit);
    }
  }
  return [...units.values()].filter((unit) => unit.open < unit.close);
}

/** Cover-up minutes of a visit: for each of its chains that would stand open when the crew, cleaned up, left (reading 15). */
export function coverMinutesOf(problem: Problem, openUnits: readonly OpenUnit[]): (visit: Visit) => number {
  const byActivity = new Map<number, OpenUnit[]>();
  for (const unit of openUnits) {
    const known = byActivity.get(unit.activity);
    if (known) known.push(unit);
    else byActivity.set(unit.activity, [unit]);
  }
  return (visit) => {
    const leaving = leavingOf(visit);
    const open = visit.coverChains.filter((chain) =>
      byActivity.get(chain)?.some((unit) => unit.open < leaving && unit.close > leaving),
    );
    return open.length * problem.coverUpMinutes;
  };
}

/**
 * When a crew would leave with nothing to cover. Without cleanup that is the end of its work: room for a cover-up that
 * lies behind the meal break keeps nobody there.
 */
function leavingOf({ items, closeStart, cleanupMinutes }: Visit): number {
  return cleanupMinutes === 0 ? (items.at(-1)?.end ?? closeStart) : closeStart + cleanupMinutes;
}
