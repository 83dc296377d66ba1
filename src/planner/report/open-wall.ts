/**
 * When each unit of a chain is open: from the start of its first opener's work to the end of its last closer's.
 */
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";

export interface OpenUnit {
  readonly activity: number;
  readonly unit: number;
  readonly open: number;
  readonly close: number;
}

/** All units that the plan opens or finds open. */
export function listOpenUnits(problem: Problem, timeline: Timeline): readonly OpenUnit[] {
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
