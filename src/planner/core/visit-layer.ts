/**
 * Lays a visit into a crew's day: the windows of its trades, setup after the way, work, and room for cover-up, cleanup
 * and the way home.
 */
import { LIFT, NEVER, type Problem } from "./problem.js";
import { lastEnd, type Addition, type Item, type Place, type Visit } from "./visit.js";
import { Pieces, Windows } from "./windows.js";

export class VisitLayer {
  private readonly windows: Windows;
  private readonly shift = new Pieces();
  /** What `shift` was last built for. */
  private shiftCrew = -1;
  private shiftDay = -1;
  private shiftSite = -1;
  private shiftLifted = 0;
  private readonly closing = new Pieces();
  private readonly own = new Pieces();

  constructor(private readonly problem: Problem) {
    this.windows = new Windows(problem);
  }

  /**
   * The visit that `base` (or nothing) becomes when `additions` are worked in it, or null where that cannot be.
   * Work of `base` keeps its times, unless a longer setup pushes it back: then `mayShift` is asked with the new items.
   * `coverChains` are the chains that may have to be covered at its end.
   * An addition that is not whole is cut at what fits; it is the last, and gets at least a minute.
   */
  lay(
    place: Place,
    base: Visit | null,
    additions: readonly Addition[],
    coverChains: readonly number[],
    lifted: number,
    mayShift: (items: readonly Item[]) => boolean,
  ): Visit | null {
    const { problem, windows, closing } = this;
    const { crew, day, site } = place;
    const trades = mergeTrades(base?.trades ?? [], additions);
    windows.build(closing, crew, day, site, trades, lifted);
    if (closing.count === 0) return null;

    let setupMinutes = 0;
    let cleanupMinutes = owedCleanup(place);
    for (const trade of trades) {
      setupMinutes = Math.max(setupMinutes, problem.setupMinutes[trade] ?? 0);
      cleanupMinutes = Math.max(cleanupMinutes, problem.cleanupMinutes[trade] ?? 0);
    }
    const cover = coverChains.length * problem.coverUpMinutes;
    const leaveBy = Math.min(place.leaveBy, this.lastLeave(crew, day, site, lifted));
    const limit = closing.lastFit(cover + cleanupMinutes, leaveBy);
    if (limit < 0) return null;

    let setupStart: number;
    let items: Item[];
    let cursor: number;
    const keep =
      base !== null &&
      setupMinutes === base.setupMinutes &&
      closing.holds(base.setupStart, base.setupStart + setupMinutes);
    if (keep) {
      ({ setupStart } = base);
      cursor = lastEnd(base);
      if (!mayFit(additions, cursor, limit)) return null;
      items = base.items.slice();
    } else {
      const firstEarliest = base?.items[0]?.earliest ?? additions[0]?.earliest ?? place.from;
      setupStart = this.setupStart(place, setupMinutes, firstEarliest, lifted);
      if (setupStart < 0) return null;
      cursor = setupStart + setupMinutes;
      items = [];
      for (const item of base?.items ?? []) {
        const pieces = this.piecesOf(place, trades, tradeOf(problem, item.task), lifted);
        const moved = fill(pieces, item, item.earliest, item.minutes, cursor, limit);
        if (moved === null || moved.minutes < item.minutes) return null;
        items.push(moved);
        cursor = moved.end;
      }
      if (!mayFit(additions, cursor, limit)) return null;
      if (base !== null && !mayShift(items)) return null;
    }

    const firstAdded = items.length;
    for (const addition of additions) {
      let earliest = keep ? addition.earliest : this.afterPushed(addition, items, lifted);
      for (const lag of addition.lags) {
        const from = items[firstAdded + lag.from];
        if (from) earliest = Math.max(earliest, from.end + lag.lagMinutes);
      }
      const pieces = this.piecesOf(place, trades, addition.trade, lifted);
      const item = fill(pieces, addition, earliest, addition.minutes, cursor, limit);
      if (item === null || (addition.whole && item.minutes < addition.minutes)) return null;
      items.push(item);
      cursor = item.end;
    }
    const closeStart = closing.firstFit(cursor, cover + cleanupMinutes);
    if (closeStart < 0 || closeStart > limit) return null;
    return {
      crew,
      day,
      site,
      before: place.before,
      trades,
      setupMinutes,
      setupStart,
      items,
      coverChains,
      cleanupMinutes,
      toolsDown: limit,
      closeStart,
      leave: closeStart + cover + cleanupMinutes,
    };
  }

  /** When an addition may start, once what it comes after may have been pushed back in this very visit. */
  private afterPushed({ task, earliest }: Addition, items: readonly Item[], lifted: number): number {
    const { tasks, activityOf } = this.problem;
    const facts = tasks[task];
    if (!facts || facts.begun) return earliest;
    let start = earliest;
    for (const edge of facts.after) {
      // Within one chain the lags of its units say it.
      if (edge.lift & lifted || activityOf[edge.task] === activityOf[task]) continue;
      const end = items.findLast((item) => item.task === edge.task)?.end ?? NEVER;
      start = Math.max(start, end + (lifted & LIFT.curing ? 0 : edge.lagMinutes));
    }
    return start;
  }

  /** Whether a stretch of a crew-day is interrupted by nothing but the meal break, for all of the trades. */
  unbroken(
    crew: number,
    day: number,
    site: number,
    trades: readonly number[],
    start: number,
    end: number,
    lifted: number,
  ): boolean {
    this.windows.build(this.own, crew, day, site, trades, lifted);
    return this.windows.unbroken(this.own, crew, day, start, end);
  }

  /** Starts of the windows of a crew-day that something other than the meal break separates from the one before. */
  listRegionStarts(
    crew: number,
    day: number,
    site: number,
    trades: readonly number[],
    lifted: number,
  ): number[] {
    const { windows, own, problem } = this;
    windows.build(own, crew, day, site, trades, lifted);
    const rest = problem.shift.start(crew, day) + problem.breakAfterMinutes;
    const starts: number[] = [];
    for (let index = 0; index < own.count; index++) {
      const soft =
        index > 0 && own.endOf(index - 1) === rest && own.startOf(index) === rest + problem.breakMinutes;
      if (!soft) starts.push(own.startOf(index));
    }
    return starts;
  }

  /** The earliest minute at which the crew can be at the site, or −1. */
  arrival(place: Place, lifted: number): number {
    const { problem, shift } = this;
    const { crew, day, site, before } = place;
    this.buildShift(crew, day, site, lifted);
    if (shift.count === 0) return -1;
    let at = Math.max(place.from, shift.startOf(0));
    if (before === null) {
      if (!problem.startsAtYard[crew]) return at;
      at = shift.firstFit(at, problem.loadMinutes);
      if (at < 0) return -1;
      return this.drive(at + problem.loadMinutes, problem.travel(problem.siteCount, site));
    }
    return this.drive(Math.max(at, before.leave), problem.travel(before.site, site));
  }

  /** When a drive that may begin at `from` ends; the shift's pieces must have been built. */
  private drive(from: number, minutes: number): number {
    const start = this.shift.firstFit(from, minutes);
    return start < 0 ? -1 : start + minutes;
  }

  /** The latest minute at which the crew may leave the site so that it is home inside its shift. */
  private lastLeave(crew: number, day: number, site: number, lifted: number): number {
    const { problem, shift } = this;
    this.buildShift(crew, day, site, lifted);
    if (shift.count === 0) return -1;
    const end = shift.endOf(shift.count - 1);
    return problem.startsAtYard[crew] ? shift.lastFit(problem.travel(site, problem.siteCount), end) : end;
  }

  private buildShift(crew: number, day: number, site: number, lifted: number): void {
    if (
      this.shiftCrew === crew &&
      this.shiftDay === day &&
      this.shiftSite === site &&
      this.shiftLifted === lifted
    )
      return;
    this.windows.buildShift(this.shift, crew, day, site, lifted);
    this.shiftCrew = crew;
    this.shiftDay = day;
    this.shiftSite = site;
    this.shiftLifted = lifted;
  }

  /** The latest setup that does not delay the first work; −1 where none fits. Expects `closing` to be built. */
  private setupStart(place: Place, minutes: number, firstEarliest: number, lifted: number): number {
    const arrive = this.arrival(place, lifted);
    if (arrive < 0) return -1;
    const soonest = this.closing.firstFit(arrive, minutes);
    if (soonest < 0) return -1;
    return Math.max(soonest, this.closing.lastFit(minutes, Math.max(firstEarliest, soonest + minutes)));
  }

  /** The windows of one trade of the visit; those of all its trades, already built, where they are the same. */
  private piecesOf(place: Place, trades: readonly number[], trade: number, lifted: number): Pieces {
    if (trade < 0 || this.windows.isOneClass(place.site, trade, trades)) return this.closing;
    this.windows.build(this.own, place.crew, place.day, place.site, [trade], lifted);
    return this.own;
  }
}

/** Work in `pieces` from `cursor` and `earliest` on, none of it after `limit`; null where not even a minute fits. */
function fill(
  pieces: Pieces,
  { task, unit }: { readonly task: number; readonly unit: number },
  earliest: number,
  minutes: number,
  cursor: number,
  limit: number,
): Item | null {
  const from = Math.max(cursor, earliest);
  if (minutes === 0)
    return from > limit ? null : { task, unit, minutes, earliest, start: from, end: from, segments: [] };
  const segments: number[] = [];
  let left = minutes;
  for (let index = 0; index < pieces.count && left > 0; index++) {
    const start = Math.max(pieces.startOf(index), from);
    const end = Math.min(pieces.endOf(index), limit, start + left);
    if (end <= start) continue;
    segments.push(start, end);
    left -= end - start;
  }
  const start = segments[0];
  const end = segments.at(-1);
  if (start === undefined || end === undefined) return null;
  return { task, unit, minutes: minutes - left, earliest, start, end, segments };
}

/** Whether additions could be done by `limit` if nothing came between: most days that are tried are too short. */
function mayFit(additions: readonly Addition[], cursor: number, limit: number): boolean {
  let end = Math.max(cursor, additions[0]?.earliest ?? cursor);
  for (const { minutes, whole } of additions) end += whole ? minutes : Math.min(minutes, 1);
  return end <= limit;
}

/** The largest cleanup of the trades that the crew has already worked at this site on this day. */
function owedCleanup(place: Place): number {
  let owed = 0;
  for (let visit = place.before; visit !== null; visit = visit.before) {
    if (visit.site === place.site) owed = Math.max(owed, visit.cleanupMinutes);
  }
  return owed;
}

function tradeOf(problem: Problem, task: number): number {
  return problem.tasks[task]?.trade ?? -1;
}

function mergeTrades(base: readonly number[], additions: readonly Addition[]): readonly number[] {
  let merged: number[] | null = null;
  for (const { trade } of additions) {
    if (trade < 0 || (merged ?? base).includes(trade)) continue;
    if (merged === null) merged = [...base, trade];
    else merged.push(trade);
  }
  return merged ?? base;
}
