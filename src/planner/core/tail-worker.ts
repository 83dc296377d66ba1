/**
 * Adds work to a crew's tail, day after day, until it is done.
 */
import { FOREVER, LIFT, NEVER, type Problem } from "./problem.js";
import type { Draft, Timeline } from "./timeline.js";
import type { Addition, Item, Visit } from "./visit.js";
import type { VisitLayer } from "./visit-layer.js";

/** A share of a chain that may leave a wall open overnight. */
export interface OpenWork {
  /** Its activity. */
  readonly chain: number;
  /** Whether the wall is closed once the share is done. */
  readonly closes: boolean;
}

export interface Span {
  readonly start: number;
  readonly end: number;
}

const NO_SHIFT_ASKED = (): boolean => false;
const ANY_VISIT = (): boolean => true;
const NO_CHAINS: readonly number[] = [];

export class TailWorker {
  /** Whether it was asked if work may be pushed back, since somebody last set this to false. */
  askedToShift = false;

  constructor(
    private readonly problem: Problem,
    private readonly timeline: Timeline,
    readonly layer: VisitLayer,
  ) {}

  /** Works `work` from the first window on until it is done; null where the horizon ends before. */
  append(draft: Draft, site: number, work: Addition, open: OpenWork | null, lifted: number): Span | null {
    let left = work.minutes;
    let start = NEVER;
    let additions: readonly Addition[] = [work];
    for (let day = this.firstDay(draft, work.earliest); day < this.problem.dayCount; day++) {
      const visit = this.addOn(draft, day, site, additions, open, lifted);
      const item = visit?.items.at(-1);
      if (!item) continue;
      if (start === NEVER) ({ start } = item);
      left -= item.minutes;
      if (left <= 0) return { start, end: item.end };
      additions = [{ ...work, minutes: left }];
    }
    return null;
  }

  /** The first crew-day that new work of a draft can lie on. */
  firstDay(draft: Pick<Draft, "last">, earliest: number): number {
    const day = this.problem.dayStart.dayOf(Math.max(earliest, this.problem.start));
    return Math.max(day, draft.last?.day ?? 0);
  }

  /** Tries `additions` on one day of a draft, at its last visit or in a new one; the visit, or null. */
  addOn(
    draft: Draft,
    day: number,
    site: number,
    additions: readonly Addition[],
    open: OpenWork | null,
    lifted: number,
    accept: (visit: Visit) => boolean = ANY_VISIT,
  ): Visit | null {
    const { problem, layer } = this;
    const isOff = problem.shift.end(draft.crew, day) <= problem.shift.start(draft.crew, day);
    if (isOff && !(lifted & LIFT.crewOff)) return null;
    const { last } = draft;
    const sameDay = last !== null && last.day === day ? last : null;
    const grow = sameDay !== null && sameDay.site === site;
    const before = grow ? sameDay.before : sameDay;
    const place = { crew: draft.crew, day, site, before, from: NEVER, leaveBy: FOREVER };
    const base = grow ? sameDay : null;
    const mayShift = base ? (items: readonly Item[]) => this.mayShift(base, items, lifted) : NO_SHIFT_ASKED;
    const others = base ? without(base.coverChains, open?.chain ?? -1) : NO_CHAINS;
    let visit: Visit | null = null;
    if (open?.closes) {
      const areWhole = additions.every((addition) => addition.whole);
      const whole = areWhole ? additions : additions.map((addition) => ({ ...addition, whole: true }));
      visit = layer.lay(place, base, whole, others, lifted, mayShift);
      // What does not fit without a cover-up does not fit with one either.
      if (visit === null && areWhole) return null;
    }
    visit ??= layer.lay(place, base, additions, open ? [...others, open.chain] : others, lifted, mayShift);
    if (visit === null || !accept(visit)) return null;
    draft.put(visit, grow);
    return visit;
  }

  /** Whether a visit's work may be pushed back: nobody waits for it, no unit breaks, no equipment is held longer. */
  private mayShift(base: Visit, items: readonly Item[], lifted: number): boolean {
    const { problem, timeline, layer } = this;
    this.askedToShift = true;
    for (const [index, item] of items.entries()) {
      const task = problem.tasks[item.task];
      if (!task || task.equipment.length > 0) return false;
      if (items[index + 1]?.task !== item.task && item.end > (timeline.latestEnd[item.task] ?? FOREVER))
        return false;
      if (item.unit < 0) continue;
      if (problem.openNights > 0) return false;
      const activity = problem.activityOf[item.task];
      const unit = items.filter(
        (other) => other.unit === item.unit && problem.activityOf[other.task] === activity,
      );
      const trades = [...new Set(unit.map((other) => problem.tasks[other.task]?.trade ?? -1))];
      const start = unit[0]?.start ?? item.start;
      const end = unit.at(-1)?.end ?? item.end;
      if (!layer.unbroken(base.crew, base.day, base.site, trades, start, end, lifted)) return false;
    }
    return true;
  }
}

function without(chains: readonly number[], one: number): readonly number[] {
  return chains.includes(one) ? chains.filter((chain) => chain !== one) : chains;
}
