/**
 * When a crew is on the clock: its shift on a date of the company's calendar, and the meal break in it.
 * Readings 1 and 3. Recomputed from the company file for every question.
 */
import { zoneOfJob, type Crew, type Job } from "../../domain/company-schema.js";
import { civilDateAt, minuteAt, weekdayOf, type CivilDate, type Interval } from "../../domain/time.js";
import type { Evidence } from "./evidence.js";
import { lightAt } from "./house.js";

/** Why a crew has no shift, or the hours that it has, before any stretching. */
export function ordinaryShift({ zone }: Evidence, crew: Crew, date: CivilDate): Interval | null {
  if (crew.off.some((off) => off.from <= date && date <= off.to)) return null;
  const hours = crew.extra.find((extra) => extra.date === date)?.hours ?? crew.week[weekdayOf(date)];
  if (hours === undefined) return null;
  return { start: minuteAt(date, hours[0], zone), end: minuteAt(date, hours[1], zone) };
}

/** The shift, on a stretch day up to the last light of the house at which that is latest. */
export function shiftAt(
  evidence: Evidence,
  crew: Crew,
  date: CivilDate,
  jobs: readonly Job[],
): Interval | null {
  const shift = ordinaryShift(evidence, crew, date);
  if (shift === null || !crew.stretch.includes(date)) return shift;
  const lasts = jobs.map((job) => lightAt(evidence, job, dateThere(evidence, job, shift)).last ?? shift.end);
  return { start: shift.start, end: Math.max(shift.end, ...lasts) };
}

/** The date at the house when the crew's day begins: in a far zone it is not the crew's. */
export function dateThere({ company }: Evidence, job: Job, shift: Interval): CivilDate {
  return civilDateAt(shift.start, zoneOfJob(company, job));
}

/** The meal break of a crew-day; null where the shift is no longer than the hours after which one is due. */
export function mealBreakOf(evidence: Evidence, shift: Interval | null): Interval | null {
  const { breakMinutes, breakAfterHours } = evidence.company.policy;
  const after = Math.floor(breakAfterHours * 60);
  if (shift === null || breakMinutes === 0 || shift.end - shift.start <= breakAfterHours * 60) return null;
  return { start: shift.start + after, end: shift.start + after + breakMinutes };
}
