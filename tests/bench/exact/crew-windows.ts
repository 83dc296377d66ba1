/**
 * The one window of each crew and day in which it can work: after setup, before cleanup, outside holds, in minutes after
 * shift start without the meal break. Also what a called-out day is paid, and the two ways to and from a house.
 */
import type { Company, Crew } from "../../../src/domain/company-schema.js";
import { lightOn } from "../../../src/daylight/light.js";
import {
  addDays,
  dayStart,
  minuteAt,
  parseClockTime,
  parseInstant,
  weekdayOf,
  type CivilDate,
} from "../../../src/domain/time.js";
import { refuse } from "./what-is-said.js";

export interface DayWindow {
  /** Work lies in [from, to); equal where the crew cannot work. */
  readonly from: number;
  readonly to: number;
  readonly paidMinutes: number;
  /** Minutes from midnight. */
  readonly shiftEnd: number;
}

export interface CrewWindows {
  /** Minutes from midnight to shift start. */
  readonly shiftStart: number;
  /** Minutes from shift start to the meal break; Infinity where there is none. */
  readonly breakAt: number;
  readonly breakMinutes: number;
  /** By crew, then day. */
  readonly days: readonly (readonly DayWindow[])[];
}

const CLOSED: DayWindow = { from: 0, to: 0, paidMinutes: 0, shiftEnd: 0 };

export function buildCrewWindows(
  company: Company,
  firstDate: CivilDate,
  dayCount: number,
  setupMinutes: number,
  cleanupMinutes: number,
): CrewWindows {
  const { policy, crews } = company;
  const zone = company.company.timeZone;
  const starts = crews.flatMap((crew) =>
    Object.values(crew.week).map((hours) => parseClockTime(hours?.[0] ?? "")),
  );
  const shiftStart = starts.find((start) => start !== undefined) ?? refuse("crews without a shift");
  const breakAt = policy.breakMinutes > 0 ? policy.breakAfterHours * 60 : Infinity;
  for (let day = 0; day < dayCount; day++) {
    const date = addDays(firstDate, day);
    if (dayStart(addDays(date, 1), zone) - dayStart(date, zone) !== 1440)
      refuse("a day on which clocks change");
  }
  const windowOn = (crew: Crew, day: number): DayWindow => {
    const date = addDays(firstDate, day);
    const hours = hoursOn(crew, date);
    if (hours === null) return CLOSED;
    const start = dayStart(date, zone) + shiftStart;
    const end = minuteAt(date, hours[1], zone);
    refuseShortLight(company, date, start, end);
    const open = cutByHolds(company, zone, { from: start, to: end });
    const length = end - start;
    const paidMinutes = length - (length > breakAt ? Math.min(policy.breakMinutes, length - breakAt) : 0);
    const pause = { from: start + breakAt, to: start + breakAt + policy.breakMinutes };
    const from = firstEnd(open, pause, setupMinutes);
    const to = lastStart(open, pause, cleanupMinutes);
    const axis = (minute: number): number =>
      minute - start - Math.max(0, Math.min(minute - pause.from, pause.to - pause.from));
    return from < to && axis(from) < axis(to)
      ? { from: axis(from), to: axis(to), paidMinutes, shiftEnd: shiftStart + length }
      : { ...CLOSED, paidMinutes };
  };
  return {
    shiftStart,
    breakAt,
    breakMinutes: policy.breakMinutes,
    days: crews.map((crew) => Array.from({ length: dayCount }, (_, day) => windowOn(crew, day))),
  };
}

/** The hours of a date by the crew's file, or null: a day off beats an extra day, which beats the week. */
function hoursOn(crew: Crew, date: CivilDate): readonly [string, string] | null {
  if (crew.off.some((off) => off.from <= date && date <= off.to)) return null;
  return crew.extra.find((extra) => extra.date === date)?.hours ?? crew.week[weekdayOf(date)] ?? null;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

/** What the holds leave of a shift; what they would leave on both sides is refused. */
function cutByHolds(company: Company, zone: string, shift: Span): Span {
  let { from, to } = shift;
  for (const hold of company.holds) {
    const begins = parseInstant(hold.from, zone) ?? 0;
    const ends = parseInstant(hold.to, zone) ?? 0;
    if (ends <= from || begins >= to) continue;
    if (begins <= from) from = Math.min(to, ends);
    else if (ends >= to) to = begins;
    else refuse("a hold that leaves both ends of a day");
  }
  return { from, to };
}

/** When setup, which is not split by the break, is over at the earliest. */
function firstEnd(open: Span, pause: Span, minutes: number): number {
  const start = open.from < pause.to && open.from + minutes > pause.from ? pause.to : open.from;
  return start + minutes;
}

/** When cleanup, which is not split by the break, must begin at the latest. */
function lastStart(open: Span, pause: Span, minutes: number): number {
  const start = open.to - minutes;
  return start < pause.to && open.to > pause.from ? Math.min(start, pause.from - minutes) : start;
}

function refuseShortLight(company: Company, date: CivilDate, start: number, end: number): void {
  for (const { site } of company.jobs) {
    const light = lightOn(site, date, company.company.timeZone, company.policy);
    const last = (light.last ?? -Infinity) - company.policy.lightMarginMinutes;
    if ((light.first ?? Infinity) > start || last < end) refuse(`a shift that the light of ${date} cuts`);
  }
}
