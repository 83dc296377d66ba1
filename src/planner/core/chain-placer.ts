/**
 * Chains: what opens a wall, what closes it, and all between, worked unit by unit. With no open nights one crew does
 * all of a unit inside one unbroken window; with some, each task has its crew and a unit is closed in time.
 */
import { findClash, usesEquipment } from "./equipment.js";
import type { Placer } from "./placer.js";
import { FOREVER, LIFT, NEVER, type Activity, type Chain } from "./problem.js";
import type { OpenWork, Span } from "./tail-worker.js";
import type { Draft, Placement } from "./timeline.js";
import type { Addition, Visit } from "./visit.js";

/** How often a unit is put off by a day (a year of them), and a chain by a user of its equipment. */
const MOST_TRIES = 366;

interface Trial {
  readonly placer: Placer;
  readonly activity: Activity;
  readonly chain: Chain;
  readonly crews: Int32Array;
  readonly lifted: number;
  readonly drafts: Map<number, Draft>;
  readonly gates: readonly number[];
  readonly starts: number[];
  readonly ends: number[];
}

export function tryChain(
  placer: Placer,
  index: number,
  activity: Activity,
  crews: Int32Array,
  lifted: number,
): Placement | null {
  const { problem, timeline } = placer;
  const { chain } = activity;
  if (!chain || !fitsLongestDay(placer, activity, chain, crews[0] ?? -1, lifted)) return null;
  let gates = activity.tasks.map((task) => {
    const facts = problem.tasks[task];
    return facts ? placer.earliest(facts, index, lifted) : problem.start;
  });
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const trial: Trial = {
      placer,
      activity,
      chain,
      crews,
      lifted,
      drafts: new Map(),
      gates,
      starts: activity.tasks.map(() => FOREVER),
      ends: activity.tasks.map(() => NEVER),
    };
    for (const crew of crews) if (!trial.drafts.has(crew)) trial.drafts.set(crew, placer.draft(crew, lifted));
    for (let unit = chain.firstUnit; unit < chain.unitCount; unit++) {
      const placed = problem.openNights === 0 ? placeInOneDay(trial, unit) : placeOverNights(trial, unit);
      if (!placed) return null;
    }
    const placement: Placement = {
      activity: index,
      crews: [...crews],
      starts: trial.starts,
      ends: trial.ends,
      start: Math.min(...trial.starts),
      end: Math.max(...trial.ends),
      drafts: [...trial.drafts.values()],
      inGaps: [],
    };
    if (lifted & LIFT.equipment || !usesEquipment(problem, activity)) return placement;
    const held = activity.tasks.map((task, place) => ({
      task,
      start: trial.starts[place] ?? 0,
      end: trial.ends[place] ?? 0,
    }));
    const clash = findClash(problem, timeline, held);
    if (clash === null) return placement;
    if (clash.by < 0) return null;
    gates = gates.map((gate, place) => {
      const usesIt = (problem.tasks[activity.tasks[place] ?? -1]?.equipment.length ?? 0) > 0;
      return usesIt ? Math.max(gate, clash.until) : gate;
    });
  }
  return null;
}

/** Whether each unit can fit into any day of its crew at all: spares a search through years of days that are too short. */
function fitsLongestDay(
  { problem }: Placer,
  activity: Activity,
  chain: Chain,
  crew: number,
  lifted: number,
): boolean {
  if (problem.openNights > 0 || lifted & (LIFT.crewOff | LIFT.closeByDark)) return true;
  const { site, tasks } = activity;
  const yard = problem.siteCount;
  let setup = 0;
  let cleanup = 0;
  for (const task of tasks) {
    const trade = problem.tasks[task]?.trade ?? -1;
    setup = Math.max(setup, problem.setupMinutes[trade] ?? 0);
    cleanup = Math.max(cleanup, problem.cleanupMinutes[trade] ?? 0);
  }
  let around = setup + cleanup;
  if (problem.startsAtYard[crew])
    around += problem.loadMinutes + problem.travel(yard, site) + problem.travel(site, yard);
  for (let unit = chain.firstUnit; unit < chain.unitCount; unit++) {
    let work = around;
    for (let place = 0; place < tasks.length; place++)
      work += shareMinutes(chain, place, unit, problem.tasks[tasks[place] ?? -1]?.minutes[crew] ?? 0);
    if (work > (problem.longestDay[crew] ?? 0)) return false;
  }
  return true;
}

/** Minutes that a task of the chain gives to a unit (reading 13: cut so that whole minutes add up). */
export function shareMinutes(chain: Chain, place: number, unit: number, minutes: number): number {
  const before = chain.hoursBefore[place];
  if (!before) return 0;
  const { unitCount } = chain;
  if ((before[unitCount] ?? 0) <= 0) return 0;
  return cutAt(before, unitCount, unit + 1, minutes) - cutAt(before, unitCount, unit, minutes);
}

function cutAt(before: Float64Array, unitCount: number, upTo: number, minutes: number): number {
  if (upTo >= unitCount) return minutes;
  return Math.floor((minutes * (before[upTo] ?? 0)) / (before[unitCount] ?? 1) + 1e-9);
}

function listAdditions(trial: Trial, unit: number): Addition[] {
  const { activity, chain, crews, gates, placer } = trial;
  return activity.tasks.map((task, place) => {
    const facts = placer.problem.tasks[task];
    return {
      task,
      unit,
      trade: facts?.trade ?? -1,
      minutes: shareMinutes(chain, place, unit, facts?.minutes[crews[place] ?? -1] ?? 0),
      earliest: gates[place] ?? NEVER,
      whole: true,
      lags: chain.lags[place] ?? [],
    };
  });
}

function note(trial: Trial, place: number, span: Span): void {
  trial.starts[place] = Math.min(trial.starts[place] ?? FOREVER, span.start);
  trial.ends[place] = Math.max(trial.ends[place] ?? NEVER, span.end);
}

function placeInOneDay(trial: Trial, unit: number): boolean {
  const { placer, activity, crews, drafts, lifted } = trial;
  const additions = listAdditions(trial, unit);
  const draft = drafts.get(crews[0] ?? -1);
  if (!draft) return false;
  if (lifted & LIFT.closeByDark) return placeLoosely(trial, draft, additions);
  const { site } = activity;
  const { worker, problem } = placer;
  const { trades } = trial.chain;
  const accept = (visit: Visit): boolean => {
    const start = visit.items.at(-additions.length)?.start ?? 0;
    const end = visit.items.at(-1)?.end ?? 0;
    return worker.layer.unbroken(draft.crew, visit.day, site, trades, start, end, lifted);
  };
  const earliest = additions[0]?.earliest ?? problem.start;
  // Only what stood open before the plan can be open when a crew leaves, and with its last unit it is closed.
  const mayStandOpen = trial.chain.openAtStart.some(Boolean);
  const last = standsOpenAfter(trial.chain, unit) ? 0 : activity.tasks.length - 1;
  const open = mayStandOpen ? openWork(trial, unit, last) : null;
  for (let day = worker.firstDay(draft, earliest); day < problem.dayCount; day++) {
    let visit = worker.addOn(draft, day, site, additions, open, lifted, accept);
    if (visit === null) {
      for (const region of worker.layer.listRegionStarts(draft.crew, day, site, trades, lifted).slice(1)) {
        const later = additions.map((addition) => ({
          ...addition,
          earliest: Math.max(addition.earliest, region),
        }));
        visit = worker.addOn(draft, day, site, later, open, lifted, accept);
        if (visit) break;
      }
    }
    if (visit === null) continue;
    const first = visit.items.length - additions.length;
    for (let place = 0; place < additions.length; place++) {
      const item = visit.items[first + place];
      if (item) note(trial, place, item);
    }
    return true;
  }
  return false;
}

/** With the rule of the closed wall lifted, a unit is worked like any other work. */
function placeLoosely(trial: Trial, draft: Draft, additions: readonly Addition[]): boolean {
  const ends: number[] = [];
  for (const [place, addition] of additions.entries()) {
    const lagged = addition.lags.map((lag) => (ends[lag.from] ?? NEVER) + lag.lagMinutes);
    const loose = { ...addition, whole: false, lags: [], earliest: Math.max(addition.earliest, ...lagged) };
    const span = trial.placer.worker.append(draft, trial.activity.site, loose, null, trial.lifted);
    if (span === null) return false;
    ends[place] = span.end;
    note(trial, place, span);
  }
  return true;
}

function placeOverNights(trial: Trial, unit: number): boolean {
  const { placer, chain, drafts, lifted } = trial;
  const { problem } = placer;
  let notBefore = NEVER;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const marks = [...drafts.values()].map((draft) => ({ draft, mark: draft.mark() }));
    const spans = placeShares(trial, unit, notBefore);
    if (spans === null) return false;
    const open = Math.min(...spans.filter((_, place) => chain.opener[place]).map((span) => span.start));
    const close = Math.max(...spans.map((span) => span.end));
    const excused = chain.openAtStart[unit] === true || (lifted & LIFT.closeByDark) !== 0;
    if (excused || !Number.isFinite(open) || isClosedInTime(trial, open, close)) {
      spans.forEach((span, place) => note(trial, place, span));
      return true;
    }
    for (const { draft, mark } of marks) draft.reset(mark);
    notBefore = problem.dayStart.at(problem.dayStart.dayOf(open) + 1);
  }
  return false;
}

function isClosedInTime(trial: Trial, open: number, close: number): boolean {
  const { placer, activity } = trial;
  const { problem } = placer;
  const nights = problem.siteDay(activity.site, close) - problem.siteDay(activity.site, open);
  return nights <= problem.openNights && !heldOpen(trial, open, close);
}

function placeShares(trial: Trial, unit: number, notBefore: number): Span[] | null {
  const { placer, activity, chain, crews, drafts, lifted } = trial;
  const { worker } = placer;
  const spans: Span[] = [];
  for (const [place, addition] of listAdditions(trial, unit).entries()) {
    const draft = drafts.get(crews[place] ?? -1);
    if (!draft) return null;
    let earliest = Math.max(addition.earliest, notBefore);
    for (const edge of chain.inner) {
      if (edge.to === place)
        earliest = Math.max(earliest, (spans[edge.from]?.end ?? NEVER) + edge.lagMinutes);
    }
    const share = { ...addition, earliest, lags: [], whole: false };
    let span: Span | null;
    if (share.trade < 0) span = { start: earliest, end: placer.endOfWait(share.task, earliest) };
    else if (share.minutes === 0) span = { start: earliest, end: earliest };
    else if (chain.opener[place] && !(lifted & LIFT.closeByDark))
      span = appendUnbroken(trial, draft, share, openWork(trial, unit, place));
    else span = worker.append(draft, activity.site, share, openWork(trial, unit, place), lifted);
    if (span === null) return null;
    spans.push(span);
  }
  return spans;
}

/** The wall is closed with a unit's last share where one crew does all of it, and with the last unit's in any case. */
function openWork({ activity, placer, chain, crews }: Trial, unit: number, place: number): OpenWork {
  const isLastShare = place === activity.tasks.length - 1;
  const alone = crews.every((crew) => crew === crews[0]);
  const chainIndex = placer.problem.activityOf[activity.tasks[0] ?? -1] ?? -1;
  const lastOpen = standsOpenAfter(chain, unit) ? false : alone || unit === chain.unitCount - 1;
  return { chain: chainIndex, closes: isLastShare && lastOpen };
}

/** Whether a later unit was open before the plan began, and still is. */
function standsOpenAfter(chain: Chain, unit: number): boolean {
  return chain.openAtStart.some((open, later) => open && later > unit);
}

/** An opener's share: whole, in one unbroken window. */
function appendUnbroken(trial: Trial, draft: Draft, share: Addition, open: OpenWork): Span | null {
  const { placer, activity, lifted } = trial;
  const { worker, problem } = placer;
  const accept = (visit: Visit): boolean => {
    const item = visit.items.at(-1);
    return (
      !!item &&
      worker.layer.unbroken(draft.crew, visit.day, visit.site, [share.trade], item.start, item.end, lifted)
    );
  };
  for (let day = worker.firstDay(draft, share.earliest); day < problem.dayCount; day++) {
    const starts = worker.layer.listRegionStarts(draft.crew, day, activity.site, [share.trade], lifted);
    for (const region of starts) {
      const whole = { ...share, whole: true, earliest: Math.max(share.earliest, region) };
      const visit = worker.addOn(draft, day, activity.site, [whole], open, lifted, accept);
      const item = visit?.items.at(-1);
      if (item) return item;
    }
  }
  return null;
}

/** Whether a hold of a closing trade runs while a unit is open. */
function heldOpen(trial: Trial, open: number, close: number): boolean {
  const { placer, activity, chain, lifted } = trial;
  const { problem } = placer;
  if (lifted & LIFT.hold) return false;
  return activity.tasks.some((task, place) => {
    if (!chain.closer[place]) return false;
    const holds =
      problem.holds[activity.site * problem.tradeCount + (problem.tasks[task]?.trade ?? -1)] ?? [];
    for (let index = 0; index + 1 < holds.length; index += 2) {
      if ((holds[index] ?? 0) < close && (holds[index + 1] ?? 0) > open) return true;
    }
    return false;
  });
}
