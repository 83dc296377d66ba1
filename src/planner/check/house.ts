/**
 * What a house allows: its access hours, its light and the holds on it, in the house's own zone.
 * Readings 2 and 5.
 */
import { zoneOfJob, type Hold, type Job, type Trade } from "../../domain/company-schema.js";
import { present } from "../../domain/result.js";
import {
  addDays,
  civilDateAt,
  minuteAt,
  parseInstant,
  type CivilDate,
  type Interval,
} from "../../domain/time.js";
import { lightOn, workingLight, type DayLight } from "../../daylight/light.js";
import type { Evidence } from "./evidence.js";
import { unite } from "./spans.js";

export function lightAt(evidence: Evidence, job: Job, date: CivilDate): DayLight {
  const key = `${job.id} ${date}`;
  const known = evidence.lights.get(key);
  if (known !== undefined) return known;
  const light = lightOn(job.site, date, zoneOfJob(evidence.company, job), evidence.company.policy);
  evidence.lights.set(key, light);
  return light;
}

/** The light less the margin on every date of the house that an interval could touch. */
export function lightSpans(evidence: Evidence, job: Job, around: Interval): Interval[] {
  const zone = zoneOfJob(evidence.company, job);
  const margin = evidence.company.policy.lightMarginMinutes;
  return unite(
    datesAround(around, zone).flatMap(
      (date) => workingLight(lightAt(evidence, job, date), date, zone, margin) ?? [],
    ),
  );
}

/** When people may be at the house; the whole interval where the file does not limit it. */
export function accessSpans(evidence: Evidence, job: Job, around: Interval): Interval[] {
  const { access } = job;
  if (access === null) return [around];
  const zone = zoneOfJob(evidence.company, job);
  return unite(
    datesAround(around, zone).map((date) => ({
      start: minuteAt(date, access[0], zone),
      end: minuteAt(date, access[1], zone),
    })),
  );
}

/** The holds that stop at least one of the trades at the house. */
export function listHolds(evidence: Evidence, job: Job, trades: readonly Trade[]): Hold[] {
  return evidence.company.holds.filter(
    (hold) =>
      (hold.jobs === "all" || hold.jobs.includes(job.id)) && trades.some((trade) => stops(hold, trade)),
  );
}

export function holdSpans(evidence: Evidence, job: Job, trades: readonly Trade[]): Interval[] {
  return unite(listHolds(evidence, job, trades).map((hold) => spanOfHold(evidence, job, hold)));
}

/** A hold's times without an offset are the house's wall clock. */
export function spanOfHold(evidence: Evidence, job: Job, hold: Hold): Interval {
  const zone = zoneOfJob(evidence.company, job);
  return {
    start: present(parseInstant(hold.from, zone), `start of hold ${hold.id}`),
    end: present(parseInstant(hold.to, zone), `end of hold ${hold.id}`),
  };
}

function stops(hold: Hold, trade: Trade): boolean {
  if (hold.trades === "all") return true;
  return hold.trades === "outdoor" ? trade.outdoor : hold.trades.includes(trade.id);
}

function datesAround({ start, end }: Interval, zone: string): CivilDate[] {
  const dates: CivilDate[] = [];
  const last = addDays(civilDateAt(end, zone), 1);
  for (let date = addDays(civilDateAt(start, zone), -1); date <= last; date = addDays(date, 1))
    dates.push(date);
  return dates;
}
