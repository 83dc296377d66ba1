/**
 * Paid and busy minutes of a crew-day (reading 22 in DEVELOPERS.md): what is paid and not busy is idle.
 */
import { LIFT, type Problem } from "./problem.js";
import type { Visit } from "./visit.js";
import { Pieces, Windows } from "./windows.js";

export class DayHours {
  private readonly windows: Windows;
  private readonly shift = new Pieces();

  constructor(private readonly problem: Problem) {
    this.windows = new Windows(problem);
  }

  /** Load, travel, setup, work, cover-up and cleanup of a day's visits, the way out and home included. */
  busyMinutes(crew: number, visits: readonly Visit[], coverMinutes: (visit: Visit) => number): number {
    const { problem } = this;
    const yard = problem.siteCount;
    const fromYard = problem.startsAtYard[crew] === true;
    let busy = fromYard ? problem.loadMinutes : 0;
    let from = fromYard ? yard : -1;
    for (const visit of visits) {
      if (from >= 0) busy += problem.travel(from, visit.site);
      busy += visit.setupMinutes + visit.cleanupMinutes + coverMinutes(visit);
      for (const item of visit.items) busy += item.minutes;
      from = visit.site;
    }
    return fromYard ? busy + problem.travel(from, yard) : busy;
  }

  /** From shift start (or the plan's) to shift end less the meal break; a stretched day ends with its last block. */
  paidMinutes(crew: number, day: number, last: Visit, coverMinutes: number): number {
    const { problem, windows } = this;
    const start = windows.shiftStart(crew, day, LIFT.nothing);
    const end = problem.stretched(crew, day)
      ? Math.max(problem.shift.end(crew, day), this.lastEnd(crew, day, last, coverMinutes))
      : windows.shiftEnd(crew, day, last.site, LIFT.nothing);
    const rest = windows.breakStart(crew, day, end, LIFT.nothing);
    const unpaid =
      rest < 0 ? 0 : Math.max(0, Math.min(end, rest + problem.breakMinutes) - Math.max(rest, start));
    return Math.max(0, end - start) - unpaid;
  }

  /** When a day's last visit is left and the crew is home. */
  private lastEnd(crew: number, day: number, last: Visit, coverMinutes: number): number {
    const { problem, windows, shift } = this;
    const left = last.closeStart + coverMinutes + last.cleanupMinutes;
    if (!problem.startsAtYard[crew]) return left;
    windows.buildShift(shift, crew, day, last.site, LIFT.nothing);
    const drive = problem.travel(last.site, problem.siteCount);
    return shift.firstFit(left, drive) + drive;
  }
}
