/**
 * What a plan costs: the figures of the planning model ("What is being minimised", readings 21 to 25) and their sum.
 * Everything about the company that does not change from plan to plan is looked up once.
 */
import type { CostFigures } from "../../domain/plan-format.js";
import { civilDate, daysBetween } from "../../domain/time.js";
import type { Compiled } from "../compile/compile.js";
import { DayHours } from "../core/day-hours.js";
import type { Timeline } from "../core/timeline.js";
import { countChanges, listPublishedDates, type PublishedDates } from "./changes.js";
import { listDays } from "./crew-days.js";
import { countMoves } from "./moves.js";
import { coverMinutesOf, listOpenUnits, type OpenUnit } from "./open-wall.js";

export interface Costed {
  readonly figures: CostFigures;
  readonly openUnits: readonly OpenUnit[];
  /** Sum of the minutes at which tasks end, from the plan's start: the tie-breaker. */
  readonly totalFinish: number;
}

export class CostBook {
  private readonly hours: DayHours;
  private readonly published: PublishedDates | null;
  /** Jobs (by index) that have an impossible task, and so no end. */
  private readonly endless: ReadonlySet<number>;
  private readonly weekOfDay: Int32Array;

  constructor(private readonly compiled: Compiled) {
    const { problem, company, impossible, days } = compiled;
    this.hours = new DayHours(problem);
    this.published = listPublishedDates(compiled);
    this.endless = new Set(impossible.map(({ job }) => company.jobs.indexOf(job)));
    // Weeks from Monday to Sunday; 1970-01-05 was a Monday.
    const offset = daysBetween(civilDate("1970-01-05"), days.date(0));
    this.weekOfDay = Int32Array.from({ length: problem.dayCount }, (_, day) =>
      Math.floor((offset + day) / 7),
    );
  }

  /** The figures of a decoded plan; `unplaced` activities leave their job without an end. */
  costOf(timeline: Timeline, unplaced: readonly number[]): Costed {
    const { problem, company } = this.compiled;
    const openUnits = listOpenUnits(problem, timeline);
    const { lateDays, weightedLateDays } = this.countLateDays(timeline, unplaced);
    const { idleMinutes, overtimeMinutes } = this.countHours(timeline, openUnits);
    const moves = countMoves(problem, timeline);
    const changes = countChanges(this.compiled, timeline, this.published);
    const openNights = countOpenNights(this.compiled, openUnits);
    const { cost } = company.policy;
    const total =
      cost.lateDay * weightedLateDays +
      (cost.idleCrewHour * idleMinutes) / 60 +
      cost.move * moves +
      cost.change * changes +
      cost.openNight * openNights +
      (cost.overtimeCrewHour * overtimeMinutes) / 60;
    let totalFinish = 0;
    for (const end of timeline.endOf) if (end > problem.start) totalFinish += end - problem.start;
    const figures = {
      lateDays,
      idleCrewHours: idleMinutes / 60,
      moves,
      changes,
      openNights,
      overtimeCrewHours: overtimeMinutes / 60,
      total,
    };
    return { figures, openUnits, totalFinish };
  }

  private countLateDays(
    timeline: Timeline,
    unplaced: readonly number[],
  ): { lateDays: number; weightedLateDays: number } {
    const { problem, company, daysOfJob } = this.compiled;
    const ends = new Float64Array(problem.siteCount);
    for (const [index, task] of problem.tasks.entries()) {
      ends[task.site] = Math.max(ends[task.site] ?? 0, timeline.endOf[index] ?? 0);
    }
    for (const activity of unplaced) ends[problem.activities[activity]?.site ?? -1] = 0;
    for (const job of this.endless) ends[job] = 0;
    let lateDays = 0;
    let weightedLateDays = 0;
    for (const [index, job] of company.jobs.entries()) {
      const end = ends[index] ?? 0;
      const days = daysOfJob[index];
      if (end === 0 || !days || job.promised === null) continue;
      // A wait that ends at midnight ends with the day before.
      const late = daysBetween(civilDate(job.promised), days.date(days.dayOf(end - 1)));
      if (late <= 0) continue;
      lateDays += late;
      weightedLateDays += late * job.weight;
    }
    return { lateDays, weightedLateDays };
  }

  private countHours(
    timeline: Timeline,
    openUnits: readonly OpenUnit[],
  ): { idleMinutes: number; overtimeMinutes: number } {
    const { problem, company } = this.compiled;
    const coverMinutes = coverMinutesOf(problem, openUnits);
    const limit = company.policy.weeklyHours * 60;
    let idleMinutes = 0;
    let overtimeMinutes = 0;
    for (const [crew, visits] of timeline.visits.entries()) {
      let week = -1;
      let paidInWeek = 0;
      for (const own of listDays(visits)) {
        const last = own.at(-1);
        if (!last) continue;
        const paid = this.hours.paidMinutes(crew, last.day, last, coverMinutes(last));
        idleMinutes += paid - this.hours.busyMinutes(crew, own, coverMinutes);
        const ownWeek = this.weekOfDay[last.day] ?? 0;
        if (ownWeek !== week) {
          overtimeMinutes += Math.max(0, paidInWeek - limit);
          week = ownWeek;
          paidInWeek = 0;
        }
        paidInWeek += paid;
      }
      overtimeMinutes += Math.max(0, paidInWeek - limit);
    }
    return { idleMinutes, overtimeMinutes };
  }
}

/** Midnights at each house at which a unit of a chain is open. */
function countOpenNights({ problem }: Compiled, openUnits: readonly OpenUnit[]): number {
  const nights = new Map<number, Set<number>>();
  for (const { activity, open, close } of openUnits) {
    const site = problem.activities[activity]?.site ?? 0;
    const set = nights.get(activity) ?? new Set<number>();
    for (let day = problem.siteDay(site, open); day < problem.siteDay(site, close); day++) set.add(day);
    nights.set(activity, set);
  }
  let count = 0;
  for (const set of nights.values()) count += set.size;
  return count;
}
