/**
 * Rain work: what a crew does while a hold keeps it from a task that has begun. It ends before the hold does; or, where
 * nothing else waits behind the held task, it stops there and goes on when the held task is done.
 */
import type { Placer } from "./placer.js";
import { FOREVER, NEVER, type Activity, type CoreTask } from "./problem.js";
import type { Draft, Gap, Placement } from "./timeline.js";
import type { Addition, Visit } from "./visit.js";

interface Filled {
  readonly gap: Gap;
  readonly visit: Visit;
}

const NO_GAPS: readonly Gap[] = [];

/** The placement of a task whose first work lies in a gap, or null where no gap will do. */
export function tryGaps(
  placer: Placer,
  activity: number,
  own: number,
  task: CoreTask,
  crew: number,
  minutes: number,
  earliest: number,
  lifted: number,
): Placement | null {
  const gaps = placer.timeline.gaps[crew] ?? [];
  for (let first = 0; first < gaps.length; first++) {
    const opening = gaps[first];
    if (!opening || !isUsable(placer, opening, own, earliest)) continue;
    const filled: Filled[] = [];
    let left = minutes;
    for (let index = first; index < gaps.length && left > 0; index++) {
      const gap = gaps[index];
      if (!gap || gap.group !== gaps[first]?.group) break;
      const work = {
        task: own,
        unit: -1,
        trade: task.trade,
        minutes: left,
        earliest,
        whole: false,
        lags: [],
      };
      const visit = fillGap(placer, gap, task.site, work, lifted);
      if (visit === null) {
        if (filled.length === 0) break;
        continue;
      }
      filled.push({ gap, visit });
      left -= visit.items[0]?.minutes ?? 0;
    }
    const firstItem = filled[0]?.visit.items[0];
    const lastItem = filled.at(-1)?.visit.items[0];
    if (!firstItem || !lastItem) continue;
    const { start } = firstItem;
    if (left === 0) return place(activity, crew, start, lastItem.end, [], filled);
    const heldIsLast = placer.timeline.lastActivity[crew] === gaps[first]?.held;
    if (!heldIsLast) continue;
    const draft = placer.draft(crew, lifted);
    const rest = { task: own, unit: -1, trade: task.trade, minutes: left, earliest, whole: false, lags: [] };
    const done = placer.worker.append(draft, task.site, rest, null, lifted);
    if (done) return place(activity, crew, start, done.end, [draft], filled);
  }
  return null;
}

/** Whether a task could be worked in a gap at all: it may have begun by then, and is not on hold itself. */
function isUsable({ problem }: Placer, gap: Gap, own: number, earliest: number): boolean {
  const from = Math.max(gap.from, earliest);
  const task = problem.tasks[own];
  if (gap.leaveBy <= from || !task) return false;
  const holds = problem.holds[task.site * problem.tradeCount + task.trade] ?? [];
  for (let index = 0; index + 1 < holds.length; index += 2) {
    if ((holds[index] ?? 0) <= from && (holds[index + 1] ?? 0) >= gap.leaveBy) return false;
  }
  return true;
}

/** The first minute at which a crew has a gap for a task, or FOREVER. */
export function firstUsableGap(placer: Placer, crew: number, own: number, earliest: number): number {
  let first = FOREVER;
  for (const gap of placer.timeline.gaps[crew] ?? []) {
    if (isUsable(placer, gap, own, earliest)) first = Math.min(first, Math.max(gap.from, earliest));
  }
  return first;
}

function place(
  activity: number,
  crew: number,
  start: number,
  end: number,
  drafts: readonly Draft[],
  inGaps: readonly Filled[],
): Placement {
  return { activity, crews: [crew], starts: [start], ends: [end], start, end, drafts, inGaps };
}

function fillGap(placer: Placer, gap: Gap, site: number, work: Addition, lifted: number): Visit | null {
  // One stay cannot be cut in two: next to a visit of the same house, the gap is left alone.
  if (gap.before?.site === site || gap.next?.site === site) return null;
  const { layer } = placer.worker;
  const place = {
    crew: gap.crew,
    day: gap.day,
    site,
    before: gap.before,
    from: gap.from,
    leaveBy: gap.leaveBy,
  };
  const visit = layer.lay(place, null, [work], [], lifted, () => false);
  if (visit === null || gap.next === null) return visit;
  const { next } = gap;
  const back = layer.arrival({ ...place, site: next.site, before: visit, from: NEVER }, lifted);
  return back >= 0 && back <= next.setupStart ? visit : null;
}

/** The gaps that holds tear into an activity that has just been placed on a crew's tail. */
export function listGaps(placer: Placer, placement: Placement): readonly Gap[] {
  const { problem, timeline } = placer;
  const activity = problem.activities[placement.activity];
  const [draft] = placement.drafts;
  if (!activity || !draft || placement.drafts.length > 1 || placement.inGaps.length > 0) return NO_GAPS;
  if (!isEverHeld(placer, activity)) return NO_GAPS;
  const holds = mergedHolds(placer, activity.site, activity.tasks);
  const visits = draft
    .list()
    .filter((visit) => visit.items.some((item) => activity.tasks.includes(item.task)));
  const firstDay = visits[0]?.day ?? 0;
  const lastDay = visits.at(-1)?.day ?? -1;
  const gaps: Gap[] = [];
  for (const [holdFrom, holdTo] of holds) {
    const group = timeline.nextGroup();
    for (let day = firstDay; day <= lastDay; day++) {
      const shiftStart = Math.max(problem.shift.start(draft.crew, day), problem.start);
      const shiftEnd = problem.shift.end(draft.crew, day);
      const from = Math.max(holdFrom, shiftStart);
      if (shiftEnd <= shiftStart || from >= Math.min(holdTo, shiftEnd)) continue;
      const own = visits.find((visit) => visit.day === day) ?? null;
      const gap = { crew: draft.crew, day, leaveBy: holdTo, group, held: placement.activity };
      if (own === null) gaps.push({ ...gap, from, before: null, next: null });
      else if (day < lastDay && own.leave <= from) gaps.push({ ...gap, from, before: own, next: null });
      else if (day > firstDay && holdTo <= own.setupStart)
        gaps.push({ ...gap, from, before: own.before, next: own });
    }
  }
  return gaps;
}

function isEverHeld({ problem }: Placer, { site, tasks }: Activity): boolean {
  for (const task of tasks) {
    const trade = problem.tasks[task]?.trade ?? -1;
    if (trade >= 0 && (problem.holds[site * problem.tradeCount + trade]?.length ?? 0) > 0) return true;
  }
  return false;
}

function mergedHolds(placer: Placer, site: number, tasks: readonly number[]): (readonly [number, number])[] {
  const { problem } = placer;
  const all: [number, number][] = [];
  for (const trade of new Set(tasks.map((task) => problem.tasks[task]?.trade ?? -1))) {
    const holds = trade < 0 ? [] : (problem.holds[site * problem.tradeCount + trade] ?? []);
    for (let index = 0; index + 1 < holds.length; index += 2)
      all.push([holds[index] ?? 0, holds[index + 1] ?? 0]);
  }
  all.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const merged: [number, number][] = [];
  for (const [from, to] of all) {
    const last = merged.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else merged.push([from, to]);
  }
  return merged;
}
