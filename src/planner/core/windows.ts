/**
 * When a crew may work which trades at which site on one day: shift ∩ access ∩ light − break − holds.
 * Also the two questions that everything in a day asks: where does a stretch fit first, where does it fit last.
 */
import { LIFT, type Problem } from "./problem.js";

/** Ascending, disjoint intervals of one day. Reused between calls: read it before the next build. */
export class Pieces {
  readonly start = new Int32Array(64);
  readonly end = new Int32Array(64);
  count = 0;

  push(start: number, end: number): void {
    if (end <= start) return;
    const last = this.count - 1;
    if (last >= 0 && (this.end[last] as number) === start) {
      this.end[last] = end;
      return;
    }
    if (this.count === this.start.length) throw new RangeError("a day has more than 64 windows");
    this.start[this.count] = start;
    this.end[this.count] = end;
    this.count += 1;
  }

  startOf(index: number): number {
    return this.start[index] as number; // proof: callers stay below count
  }

  endOf(index: number): number {
    return this.end[index] as number; // proof: as above
  }

  /** The first minute from `from` on at which `minutes` fit into one piece, or −1. */
  firstFit(from: number, minutes: number): number {
    for (let index = 0; index < this.count; index++) {
      const start = Math.max(from, this.startOf(index));
      if (start + minutes <= this.endOf(index)) return start;
    }
    return minutes === 0 && this.count > 0 && from >= this.endOf(this.count - 1) ? from : -1;
  }

  /** The last minute at which `minutes` fit into one piece and end by `by`, or −1. */
  lastFit(minutes: number, by: number): number {
    for (let index = this.count - 1; index >= 0; index--) {
      const start = Math.min(this.endOf(index), by) - minutes;
      if (start >= this.startOf(index)) return start;
    }
    return -1;
  }

  /** Leaves only what lies in `from`…`to`. */
  clip(from: number, to: number): void {
    let kept = 0;
    for (let index = 0; index < this.count; index++) {
      const start = Math.max(this.startOf(index), from);
      const end = Math.min(this.endOf(index), to);
      if (end <= start) continue;
      this.start[kept] = start;
      this.end[kept] = end;
      kept += 1;
    }
    this.count = kept;
  }

  /** Whether `start`…`end` lies inside one piece. */
  holds(start: number, end: number): boolean {
    if (start === end) return true;
    for (let index = 0; index < this.count; index++) {
      if (start >= this.startOf(index) && end <= this.endOf(index)) return true;
    }
    return false;
  }
}

export class Windows {
  private readonly first = new Pieces();
  private readonly second = new Pieces();

  constructor(private readonly problem: Problem) {}

  shiftStart(crew: number, day: number, lifted: number): number {
    const start = lifted & LIFT.crewOff ? this.problem.dayStart.at(day) : this.problem.shift.start(crew, day);
    return Math.max(start, this.problem.start);
  }

  /** End of the shift for work at `site`: on a stretched day, its last light. */
  shiftEnd(crew: number, day: number, site: number, lifted: number): number {
    const { problem } = this;
    if (lifted & LIFT.crewOff) return problem.dayStart.at(day + 1);
    const end = problem.shift.end(crew, day);
    if (end <= problem.shift.start(crew, day) || !problem.stretched(crew, day)) return end;
    const siteDay = problem.sharesCrewDays[site]
      ? day
      : problem.siteDay(site, problem.shift.start(crew, day));
    return Math.max(end, problem.lastLight.end(site, siteDay));
  }

  /** Start of the day's meal break, or −1 where the shift is too short to have one. */
  breakStart(crew: number, day: number, shiftEnd: number, lifted: number): number {
    const { problem } = this;
    if (lifted & LIFT.crewOff || problem.breakMinutes === 0) return -1;
    const start = problem.shift.start(crew, day) + problem.breakAfterMinutes;
    return start < shiftEnd ? start : -1;
  }

  /** The shift less the break: where loading and driving may lie. */
  buildShift(out: Pieces, crew: number, day: number, site: number, lifted: number): void {
    out.count = 0;
    const start = this.shiftStart(crew, day, lifted);
    const end = this.shiftEnd(crew, day, site, lifted);
    const rest = this.breakStart(crew, day, end, lifted);
    if (rest < 0) {
      out.push(start, end);
      return;
    }
    out.push(start, Math.min(end, rest));
    out.push(Math.max(start, rest + this.problem.breakMinutes), end);
  }

  /** Where all of `trades` may be worked. */
  build(
    out: Pieces,
    crew: number,
    day: number,
    site: number,
    trades: readonly number[],
    lifted: number,
  ): void {
    const { problem } = this;
    this.buildShift(out, crew, day, site, lifted);
    if (out.count === 0) return;
    if (!(lifted & LIFT.access)) this.meet(out, day, site, problem.access);
    if (!(lifted & LIFT.noLight) && this.isOutdoor(trades)) this.meet(out, day, site, problem.light);
    if (lifted & LIFT.hold) return;
    for (let index = 0; index < trades.length; index++) {
      const holds = problem.holds[site * problem.tradeCount + (trades[index] ?? 0)];
      if (!holds || holds.length === 0 || (index > 0 && this.isRepeated(site, trades, index))) continue;
      this.cut(out, holds);
    }
  }

  private isOutdoor(trades: readonly number[]): boolean {
    const { outdoor } = this.problem;
    for (const trade of trades) if (outdoor[trade]) return true;
    return false;
  }

  /** Whether all of `trades` have the windows of `trade`. */
  isOneClass(site: number, trade: number, trades: readonly number[]): boolean {
    const { windowClass, tradeCount } = this.problem;
    const own = windowClass[site * tradeCount + trade];
    for (const other of trades) if (windowClass[site * tradeCount + other] !== own) return false;
    return true;
  }

  private isRepeated(site: number, trades: readonly number[], index: number): boolean {
    const { windowClass, tradeCount } = this.problem;
    const own = windowClass[site * tradeCount + (trades[index] ?? 0)];
    for (let before = 0; before < index; before++) {
      if (windowClass[site * tradeCount + (trades[before] ?? 0)] === own) return true;
    }
    return false;
  }

  /** Whether nothing but the meal break lies between `start` and `end` in `pieces`. */
  unbroken(pieces: Pieces, crew: number, day: number, start: number, end: number): boolean {
    const rest = this.problem.shift.start(crew, day) + this.problem.breakAfterMinutes;
    let index = 0;
    while (index < pieces.count && pieces.endOf(index) <= start) index++;
    if (index >= pieces.count || start < pieces.startOf(index)) return start === end;
    while (end > pieces.endOf(index)) {
      const next = index + 1;
      if (next >= pieces.count || pieces.endOf(index) !== rest) return false;
      if (pieces.startOf(next) !== rest + this.problem.breakMinutes) return false;
      index = next;
    }
    return true;
  }

  private meet(out: Pieces, day: number, site: number, table: Problem["access"]): void {
    const { problem, first, second } = this;
    if (problem.sharesCrewDays[site]) {
      out.clip(table.start(site, day), table.end(site, day));
      return;
    }
    first.count = 0;
    // Another calendar: the site's neighbouring dates may reach into this crew-day, and may overlap each other.
    for (let near = Math.max(0, day - 2); near <= Math.min(problem.dayCount - 1, day + 2); near++) {
      const start = table.start(site, near);
      const end = table.end(site, near);
      if (end <= start) continue;
      first.push(first.count > 0 ? Math.max(start, first.endOf(first.count - 1)) : start, end);
    }
    second.count = 0;
    for (let a = 0; a < out.count; a++) {
      for (let b = 0; b < first.count; b++) {
        second.push(Math.max(out.startOf(a), first.startOf(b)), Math.min(out.endOf(a), first.endOf(b)));
      }
    }
    this.copy(out);
  }

  private cut(out: Pieces, holds: Int32Array): void {
    const { second } = this;
    second.count = 0;
    for (let index = 0; index < out.count; index++) {
      let start = out.startOf(index);
      const end = out.endOf(index);
      for (let hold = 0; hold < holds.length && start < end; hold += 2) {
        const from = holds[hold] as number;
        const to = holds[hold + 1] as number;
        if (to <= start || from >= end) continue;
        second.push(start, Math.min(from, end));
        start = Math.max(start, to);
      }
      second.push(start, end);
    }
    this.copy(out);
  }

  private copy(out: Pieces): void {
    const { second } = this;
    out.count = second.count;
    for (let index = 0; index < second.count; index++) {
      out.start[index] = second.startOf(index);
      out.end[index] = second.endOf(index);
    }
  }
}
