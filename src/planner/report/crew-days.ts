/**
 * A crew's visits as the blocks of its days: load, travel, setup, work, cover-up, cleanup, break. What a crew waits
 * for at the start of a day it waits for at home: loading and the first drive are as late as they can be.
 */
import { LIFT, type Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import type { Visit } from "../core/visit.js";
import { Pieces, Windows } from "../core/windows.js";
import { coverMinutesOf, type OpenUnit } from "./open-wall.js";

export type DayBlockKind = "load" | "travel" | "setup" | "work" | "break" | "cover-up" | "cleanup";

export interface DayBlock {
  readonly kind: DayBlockKind;
  /** The site it is at or leads to; −1 for the yard. */
  readonly site: number;
  readonly task: number;
  readonly unit: number;
  readonly start: number;
  readonly end: number;
}

export interface CrewDay {
  readonly crew: number;
  readonly day: number;
  readonly visits: readonly Visit[];
  readonly blocks: readonly DayBlock[];
  /** End of the shift at the day's last house. */
  readonly shiftEnd: number;
  readonly shiftStart: number;
}

/** Each crew's days on which it has anything to do, in order. */
export function listCrewDays(
  problem: Problem,
  timeline: Timeline,
  openUnits: readonly OpenUnit[],
): readonly CrewDay[] {
  const builder = new CrewDayBuilder(problem, coverMinutesOf(problem, openUnits));
  return timeline.visits.flatMap((visits, crew) =>
    listDays(visits).map((own) => builder.build(crew, own[0]?.day ?? 0, own)),
  );
}

/** A crew's visits, day by day. */
export function listDays(visits: readonly Visit[]): readonly (readonly Visit[])[] {
  const days: Visit[][] = [];
  for (const visit of visits) {
    const day = days.at(-1);
    if (day && day[0]?.day === visit.day) day.push(visit);
    else days.push([visit]);
  }
  return days;
}

class CrewDayBuilder {
  private readonly windows: Windows;
  private readonly shift = new Pieces();

  constructor(
    private readonly problem: Problem,
    private readonly coverMinutes: (visit: Visit) => number,
  ) {
    this.windows = new Windows(problem);
  }

  build(crew: number, day: number, visits: readonly Visit[]): CrewDay {
    const { problem, windows, shift } = this;
    const blocks: DayBlock[] = [];
    const add = (
      kind: DayBlockKind,
      site: number,
      start: number,
      end: number,
      task = -1,
      unit = -1,
    ): void => {
      if (end > start) blocks.push({ kind, site, task, unit, start, end });
    };
    let left = 0;
    let from = -1;
    for (const visit of visits) {
      windows.buildShift(shift, crew, day, visit.site, LIFT.nothing);
      if (from < 0) this.addWayOut(add, crew, visit);
      else {
        const drive = problem.travel(from, visit.site);
        const start = shift.firstFit(left, drive);
        add("travel", visit.site, start, start + drive);
      }
      add("setup", visit.site, visit.setupStart, visit.setupStart + visit.setupMinutes);
      for (const { segments, task, unit } of visit.items) {
        for (let at = 0; at + 1 < segments.length; at += 2)
          add("work", visit.site, segments[at] ?? 0, segments[at + 1] ?? 0, task, unit);
      }
      const covered = visit.closeStart + this.coverMinutes(visit);
      add("cover-up", visit.site, visit.closeStart, covered);
      left = covered + visit.cleanupMinutes;
      add("cleanup", visit.site, covered, left);
      from = visit.site;
    }
    if (problem.startsAtYard[crew]) {
      const drive = problem.travel(from, problem.siteCount);
      const start = shift.firstFit(left, drive);
      add("travel", -1, start, start + drive);
    }
    const shiftEnd = windows.shiftEnd(crew, day, from, LIFT.nothing);
    this.addBreak(blocks, crew, day, shiftEnd);
    blocks.sort((a, b) => a.start - b.start);
    const shiftStart = windows.shiftStart(crew, day, LIFT.nothing);
    return { crew, day, visits, blocks, shiftStart, shiftEnd };
  }

  private addWayOut(
    add: (kind: DayBlockKind, site: number, start: number, end: number) => void,
    crew: number,
    visit: Visit,
  ): void {
    const { problem, shift } = this;
    if (!problem.startsAtYard[crew]) return;
    const drive = problem.travel(problem.siteCount, visit.site);
    const out = shift.lastFit(drive, visit.setupStart);
    const load = shift.lastFit(problem.loadMinutes, out);
    add("load", visit.site, load, load + problem.loadMinutes);
    add("travel", visit.site, out, out + drive);
  }

  /** The meal break of a day with something before and after it. */
  private addBreak(blocks: DayBlock[], crew: number, day: number, shiftEnd: number): void {
    const { problem } = this;
    const start = this.windows.breakStart(crew, day, shiftEnd, LIFT.nothing);
    const end = start + problem.breakMinutes;
    if (start < 0) return;
    const around = blocks.findLast((block) => block.end <= start);
    if (!around || !blocks.some((block) => block.start >= end)) return;
    blocks.push({ kind: "break", site: around.site, task: -1, unit: -1, start, end });
  }
}
