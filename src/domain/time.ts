/**
 * Time: whole minutes since 1970-01-01T00:00Z inside, ISO 8601 with offset at the edges.
 * A civil date is a date on somebody's wall calendar and means nothing without a zone.
 * The one importer of luxon; a day may have 23 or 25 hours. Intervals are half-open.
 */
import { DateTime, FixedOffsetZone, IANAZone } from "luxon";
import { invariant } from "./result.js";

/** Whole minutes since the Unix epoch (UTC). */
export type Minute = number;
/** `YYYY-MM-DD`. */
export type CivilDate = string & { readonly __brand: "CivilDate" };
/** `HH:MM`, 00:00 to 24:00. */
export type ClockTime = string;
export type Weekday = "mon" | "tue" | "wed" | "thu" | "fri" | "sat" | "sun";
/** `start` ≤ t < `end`. */
export interface Interval {
  readonly start: Minute;
  readonly end: Minute;
}

export const MINUTES_PER_DAY = 1440;
export const WEEKDAYS: readonly Weekday[] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

const MONTH_DAYS = [0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const MS_PER_MINUTE = 60_000;
const MS_PER_DAY = 86_400_000;

/** The civil date that a text names, or undefined where it is not one (2027-02-29). */
export function parseCivilDate(text: string): CivilDate | undefined {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!parts) return undefined;
  const day = Number(parts[3]);
  return day >= 1 && day <= daysInMonth(Number(parts[1]), Number(parts[2])) ? (text as CivilDate) : undefined;
}

/** On the proleptic Gregorian calendar; 0 where there is no such month. */
function daysInMonth(year: number, month: number): number {
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return month === 2 ? (isLeap ? 29 : 28) : (MONTH_DAYS[month] ?? 0);
}

/** A civil date that is known to be one (a literal, or text checked before). */
export function civilDate(text: string): CivilDate {
  const date = parseCivilDate(text);
  invariant(date !== undefined, `"${text}" is no date`);
  return date;
}

/** Days since 1970-01-01 on the proleptic Gregorian calendar; no zone enters into it. */
export function dayNumber(date: CivilDate): number {
  return Date.parse(`${date}T00:00:00Z`) / MS_PER_DAY;
}

/** The inverse of `dayNumber`. */
export function dateOfDayNumber(day: number): CivilDate {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10) as CivilDate;
}

export function addDays(date: CivilDate, days: number): CivilDate {
  return dateOfDayNumber(dayNumber(date) + days);
}

/** `to` − `from` in calendar days. */
export function daysBetween(from: CivilDate, to: CivilDate): number {
  return dayNumber(to) - dayNumber(from);
}

export function weekdayOf(date: CivilDate): Weekday {
  // 1970-01-01 was a Thursday (index 3).
  const weekday = WEEKDAYS[(((dayNumber(date) + 3) % 7) + 7) % 7];
  invariant(weekday !== undefined, "a weekday index is 0 to 6");
  return weekday;
}

/** The Monday of the week (Monday to Sunday) that a date lies in. */
export function mondayOf(date: CivilDate): CivilDate {
  return addDays(date, -WEEKDAYS.indexOf(weekdayOf(date)));
}

/** Whether the text is an IANA time zone that this machine knows. */
export function isZone(zone: string): boolean {
  return IANAZone.isValidZone(zone);
}

/** `HH:MM` as minutes after midnight, or undefined. `24:00` is the end of the day. */
export function parseClockTime(text: string): number | undefined {
  const match = /^(\d{2}):(\d{2})$/.exec(text);
  if (!match) return undefined;
  const minutes = Number(match[1]) * 60 + Number(match[2]);
  return Number(match[2]) < 60 && minutes <= MINUTES_PER_DAY ? minutes : undefined;
}

/**
 * The instant at which a wall clock in `zone` shows `clock` on `date`. A time that the spring change skips
 * becomes the instant as far after the gap (02:30 → 03:30); one that the autumn change repeats is the first of the two.
 */
export function minuteAt(date: CivilDate, clock: ClockTime, zone: string): Minute {
  const start = dayStart(date, zone);
  const end = dayStart(addDays(date, 1), zone);
  const minutes = parseClockTime(clock);
  invariant(minutes !== undefined, `"${clock}" is no time of day`);
  if (minutes === MINUTES_PER_DAY) return end;
  // Only a day on which the clocks change needs the calendar of its zone.
  if (end - start === MINUTES_PER_DAY) return start + minutes;
  return minuteOf(firstOf(DateTime.fromISO(`${date}T${clock}`, { zone })));
}

const dayStarts = new Map<string, Map<CivilDate, Minute>>();

/**
 * Local midnight; in the few zones whose clocks change at midnight, the first instant of the date. Remembered, because
 * planning asks for the same dates over and over and a calendar takes its time to answer.
 */
export function dayStart(date: CivilDate, zone: string): Minute {
  let known = dayStarts.get(zone);
  if (!known) dayStarts.set(zone, (known = new Map()));
  let start = known.get(date);
  if (start === undefined) {
    start = minuteOf(firstOf(DateTime.fromISO(date, { zone }).startOf("day")));
    known.set(date, start);
  }
  return start;
}

/** The instant of local noon, which is what the sun's times of a civil date are asked with. */
export function localNoon(date: CivilDate, zone: string): Minute {
  return minuteAt(date, "12:00", zone);
}

/** The civil date that a wall calendar in `zone` shows at an instant. */
export function civilDateAt(minute: Minute, zone: string): CivilDate {
  return at(minute, zone).toFormat("yyyy-MM-dd") as CivilDate;
}

/** `HH:MM` on a 24-hour wall clock. */
export function clockAt(minute: Minute, zone: string): ClockTime {
  return at(minute, zone).toFormat("HH:mm");
}

/** ISO 8601 with the zone's offset at that instant: `2027-03-16T07:20:00-04:00`. */
export function toIso(minute: Minute, zone: string): string {
  return at(minute, zone).toFormat("yyyy-MM-dd'T'HH:mm:ssZZ");
}

/**
 * An instant from ISO 8601. With an offset it stands for itself; without one it is wall time in `zone`; a bare date
 * is that date's first instant. Seconds are cut off. Undefined where it is no time.
 */
export function parseInstant(text: string, zone: string): Minute | undefined {
  const parts = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2})(?::[0-5]\d(?:\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?$/.exec(
    text,
  );
  const date = parts?.[1] === undefined ? undefined : parseCivilDate(parts[1]);
  if (date === undefined) return undefined;
  const clock = parts?.[2];
  if (clock === undefined) return dayStart(date, zone);
  if (parseClockTime(clock) === undefined) return undefined;
  if (parts?.[3] === undefined) return minuteAt(date, clock, zone);
  const ms = Date.parse(text);
  return Number.isNaN(ms) ? undefined : Math.floor(ms / MS_PER_MINUTE);
}

/** A text for people, by luxon's tokens and a locale ("cccc d LLLL" → "Tuesday 8 December"). */
export function formatAt(minute: Minute, zone: string, tokens: string, locale: string): string {
  return at(minute, zone).setLocale(locale).toFormat(tokens);
}

/** A text for people of a civil date, by luxon's tokens and a locale. */
export function formatDate(date: CivilDate, tokens: string, locale: string): string {
  return DateTime.fromISO(date, { zone: FixedOffsetZone.utcInstance }).setLocale(locale).toFormat(tokens);
}

/** Whole minutes from a JavaScript Date, rounded down. The only way in for a clock. */
export function minuteOfDate(date: Date): Minute {
  return Math.floor(date.getTime() / MS_PER_MINUTE);
}

function at(minute: Minute, zone: string): DateTime {
  return DateTime.fromMillis(minute * MS_PER_MINUTE, { zone });
}

/** Of a wall time that occurs twice, the first; luxon's own choice depends on the day on which the program runs. */
function firstOf(wall: DateTime): DateTime {
  return wall.getPossibleOffsets()[0] ?? wall;
}

function minuteOf(time: DateTime): Minute {
  invariant(time.isValid, `luxon made an invalid time (${time.invalidExplanation ?? "no reason given"})`);
  return Math.floor(time.toMillis() / MS_PER_MINUTE);
}
