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
import { CrewLedger } from "./crew-figures.js";
import { coverMinutesOf, listOpenUnits, type OpenUnit } from "./open-wall.js";

export interface Costed {
  readonly figures: CostFigures;
  readonly openUnits: readonly OpenUnit[];
  /** Sum of the minutes at which tasks end, from the plan's start: the tie-breaker. */
  readonly totalFinish: number;
}

export class CostBook {
  private readonly crews: CrewLedger;
  private readonly published: PublishedDates | null;
  /** Jobs (by index) that have an impossible task, and so no end. */
  private readonly endless: ReadonlySet<number>;
  /** By job, the day on which it is promised, counted as its own days are; NaN where it is not. */
  private readonly promisedDay: Float64Array;

  constructor(private readonly compiled: Compiled) {
    const { problem, company, impossible, days, daysOfJob } = compiled;
    this.published = listPublishedDates(compiled);
    this.endless = new Set(impossible.map(({ job }) => company.jobs.indexOf(job)));
    // Weeks from Monday to Sunday; 1970-01-05 was a Monday.
    const offset = daysBetween(civilDate("1970-01-05"), days.date(0));
    const weekOfDay = Int32Array.from({ length: problem.dayCount }, (_, day) =>
      Math.floor((offset + day) / 7),
    );
    const weeklyMinutes = company.policy.weeklyHours * 60;
    this.crews = new CrewLedger(problem, new DayHours(problem), weekOfDay, weeklyMinutes);
    this.promisedDay = Float64Array.from(company.jobs, ({ promised }, index) =>
      promised === null ? NaN : daysBetween((daysOfJob[index] ?? days).date(0), civilDate(promised)),
    );
  }

  /** The figures of a decoded plan; `unplaced` activities leave their job without an end. */
  costOf(timeline: Timeline, unplaced: readonly number[]): Costed {
    const { problem, company } = this.compiled;
    const openUnits = listOpenUnits(problem, timeline);
    const { lateDays, weightedLateDays } = this.countLateDays(timeline, unplaced);
    const { idleMinutes, overtimeMinutes, moves } = this.crews.sum(
      timeline,
      coverMinutesOf(problem, openUnits),
    );
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
    const { tasks } = problem;
    for (let index = 0; index < tasks.length; index++) {
      const site = tasks[index]?.site ?? -1;
      ends[site] = Math.max(ends[site] ?? 0, timeline.endOf[index] ?? 0);
    }
    for (const activity of unplaced) ends[problem.activities[activity]?.site ?? -1] = 0;
    for (const job of this.endless) ends[job] = 0;
    let lateDays = 0;
    let weightedLateDays = 0;
    for (const [index, job] of company.jobs.entries()) {
      const end = ends[index] ?? 0;
      const days = daysOfJob[index];
      if (end === 0 || !days) continue;
      // A wait that ends at midnight ends with the day before.
      const late = days.dayOf(end - 1) - (this.promisedDay[index] ?? NaN);
      if (!(late > 0)) continue;
      lateDays += late;
      weightedLateDays += late * job.weight;
    }
    return { lateDays, weightedLateDays };
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
