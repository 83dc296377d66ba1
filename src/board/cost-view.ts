/**
 * What a plan costs by the company's own weights: each figure, its price, and the total beside them.
 * Late days are weighed house by house, so that the rows add up to the total.
 */
import type { Job } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { civilDate, civilDateAt, daysBetween, type CivilDate } from "../domain/time.js";
import type { Reading } from "./reading.js";

export interface CostRow {
  readonly label: string;
  readonly amount: string;
  readonly price: string;
  readonly cost: string;
}

export interface CostView {
  readonly rows: readonly CostRow[];
  readonly total: string;
}

/** The cost table of a plan. Money has no currency: the weights are the company's own. */
export function buildCostView(reading: Reading): CostView {
  const { cost } = reading.plan;
  const rate = reading.company.policy.cost;
  const weighedLateDays = reading.company.jobs.reduce(
    (sum, job) => sum + job.weight * lateDays(reading, job),
    0,
  );
  return {
    rows: [
      row("Days late", cost.lateDays, rate.lateDay, weighedLateDays),
      row("Idle crew-hours", cost.idleCrewHours, rate.idleCrewHour),
      row("Moves away from unfinished work", cost.moves, rate.move),
      row("Changes to what was published", cost.changes, rate.change),
      row("Nights with a wall open", cost.openNights, rate.openNight),
      row("Overtime crew-hours", cost.overtimeCrewHours, rate.overtimeCrewHour),
    ],
    total: whole(cost.total),
  };
}

/** The date on which the last task of a house ends; undefined where one is impossible or nothing is known. */
export function finishDate(reading: Reading, job: Job): CivilDate | undefined {
  const ends: number[] = [];
  for (const task of job.tasks) {
    if (task.status === "done") continue;
    const planned = reading.planned(job.id, task.id);
    if (planned === undefined) return undefined;
    ends.push(planned.end);
  }
  // A wait ends with the midnight of its last day: that day is its date, not the next.
  return ends.length === 0 ? undefined : civilDateAt(Math.max(...ends) - 1, zoneOfJob(reading.company, job));
}

/** Calendar days by which a house misses its promised date; 0 where it keeps it or none is promised. */
export function lateDays(reading: Reading, job: Job): number {
  const finish = finishDate(reading, job);
  if (finish === undefined || job.promised === null) return 0;
  return Math.max(0, daysBetween(civilDate(job.promised), finish));
}

function row(label: string, amount: number, price: number, weighed: number = amount): CostRow {
  return {
    label: weighed === amount ? label : `${label} (weighed ${number(weighed)})`,
    amount: number(amount),
    price: number(price),
    cost: whole(weighed * price),
  };
}

function whole(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 0 });
}

function number(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 1 });
}
