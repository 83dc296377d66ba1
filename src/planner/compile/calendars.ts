/**
 * When crews and houses are there at all: shifts, access hours, light and holds of each day, as the tables that the
 * decoder reads.
 */
import { zoneOfJob, type Company, type Crew, type Job, type Policy } from "../../domain/company-schema.js";
import { MINUTES_PER_DAY, parseClockTime, weekdayOf, type Interval } from "../../domain/time.js";
import { lightAtNoon, type DayLight } from "../../daylight/light.js";
import { listHoldsOf } from "../../weather/hold-list.js";
import { DayTable } from "../core/day-table.js";
import type { ZoneDays } from "./zone-days.js";

/** The hours that a crew works on a day by its file: a day off beats an extra day, which beats the week. */
export function shiftOn(crew: Crew, days: ZoneDays, day: number): Interval | null {
  const date = days.date(day);
  if (crew.off.some((off) => off.from <= date && date <= off.to)) return null;
  const hours = crew.extra.find((extra) => extra.date === date)?.hours ?? crew.week[weekdayOf(date)];
  return hours ? { start: days.clock(day, hours[0]), end: days.clock(day, hours[1]) } : null;
}

/** The most minutes that a day of each crew can have: its longest shift less the meal break. */
export function longestDays({ crews, policy }: Company): Int32Array {
  return Int32Array.from(crews, (crew) => {
    if (crew.stretch.length > 0) return MINUTES_PER_DAY;
    const shifts = [...Object.values(crew.week), ...crew.extra.map((extra) => extra.hours)];
    return Math.max(0, ...shifts.map((hours) => (hours ? longestShift(hours, policy) : 0)));
  });
}

/** Clocks are put back at night: only a shift that lies there can be longer than its hours say. */
function longestShift([from, to]: readonly [string, string], policy: Policy): number {
  const start = parseClockTime(from) ?? 0;
  const length = (parseClockTime(to) ?? 0) - start;
  const breakMinutes = length > policy.breakAfterHours * 60 ? policy.breakMinutes : 0;
  return length - breakMinutes + (start < 240 ? 60 : 0);
}

export function shiftTable(company: Company, days: ZoneDays, dayCount: number): DayTable {
  const { crews } = company;
  return new DayTable(crews.length, dayCount, (row, day) => {
    const crew = crews[row];
    return crew ? shiftOn(crew, days, day) : null;
  });
}

export function accessTable(company: Company, daysOf: readonly ZoneDays[], dayCount: number): DayTable {
  const { jobs } = company;
  return new DayTable(jobs.length, dayCount, (row, day) => {
    const days = daysOf[row];
    const hours = jobs[row]?.access;
    if (!days) return null;
    return hours
      ? { start: days.clock(day, hours[0]), end: days.clock(day, hours[1]) }
      : { start: days.at(day), end: days.at(day + 1) };
  });
}

/** Light less its margin, and light to its very end for days that run to last light. */
export function lightTables(
  company: Company,
  daysOf: readonly ZoneDays[],
  dayCount: number,
): { readonly light: DayTable; readonly lastLight: DayTable } {
  const { jobs, policy } = company;
  const lightOf = (row: number, day: number): DayLight | null => {
    const job = jobs[row];
    const days = daysOf[row];
    if (!job || !days) return null;
    return rememberedLight(job.site, days, day, policy);
  };
  const light = new DayTable(jobs.length, dayCount, (row, day) => {
    const found = lightOf(row, day);
    const days = daysOf[row];
    if (!found || !days || found.kind === "none") return null;
    if (found.first === null || found.last === null) return { start: days.at(day), end: days.at(day + 1) };
    return { start: found.first, end: found.last - policy.lightMarginMinutes };
  });
  const lastLight = new DayTable(jobs.length, dayCount, (row, day) => {
    const found = lightOf(row, day);
    return found && found.first !== null && found.last !== null
      ? { start: found.first, end: found.last }
      : null;
  });
  return { light, lastLight };
}

const MOST_REMEMBERED = 200_000;
const remembered = new Map<string, DayLight>();

/** The light of a house does not change from one plan to the next, and the sun takes longer to work out than to look up. */
export function rememberedLight(site: Job["site"], days: ZoneDays, day: number, policy: Policy): DayLight {
  const noon = days.clock(day, "12:00");
  const key = `${site.lat} ${site.lon} ${noon} ${policy.firstLight} ${policy.lastLight} ${days.zone}`;
  let light = remembered.get(key);
  if (!light) {
    light = lightAtNoon(site, noon, days.at(day), days.at(day + 1), policy);
    if (remembered.size >= MOST_REMEMBERED) remembered.clear();
    remembered.set(key, light);
  }
  return light;
}

/** Holds of each house and trade, merged: start, end, start, end, … at `job * trades + trade`. */
export function holdTable(company: Company): readonly Int32Array[] {
  return company.jobs.flatMap((job) => {
    const zone = zoneOfJob(company, job);
    return company.trades.map((trade) => {
      const holds = listHoldsOf(company.holds, trade, job.id, zone);
      return Int32Array.from(
        merge(holds.map(({ interval }) => interval)).flatMap(({ start, end }) => [start, end]),
      );
    });
  });
}

/** Equal numbers for trades of a house that have the same light and the same holds, at `job * trades + trade`. */
export function windowClasses(company: Company, holds: readonly Int32Array[]): Int32Array {
  const { trades } = company;
  return Int32Array.from(holds, (own, at) => {
    const trade = at % trades.length;
    const first = at - trade;
    for (let other = 0; other < trade; other++) {
      const same = trades[other]?.outdoor === trades[trade]?.outdoor && isSame(own, holds[first + other]);
      if (same) return other;
    }
    return trade;
  });
}

function isSame(a: Int32Array, b: Int32Array | undefined): boolean {
  return b !== undefined && a.length === b.length && a.every((value, index) => value === b[index]);
}

/** Of intervals by start, those that touch made one. */
function merge(intervals: readonly Interval[]): readonly Interval[] {
  const merged: { start: number; end: number }[] = [];
  for (const { start, end } of intervals) {
    const last = merged.at(-1);
    if (last && start <= last.end) last.end = Math.max(last.end, end);
    else merged.push({ start, end });
  }
  return merged;
}

/** The zone's days of each house; houses in one zone share them. */
export function daysOfJobs(
  company: Company,
  companyDays: ZoneDays,
  make: (zone: string) => ZoneDays,
): readonly ZoneDays[] {
  const byZone = new Map<string, ZoneDays>([[companyDays.zone, companyDays]]);
  return company.jobs.map((job: Job) => {
    const zone = zoneOfJob(company, job);
    const days = byZone.get(zone) ?? make(zone);
    byZone.set(zone, days);
    return days;
  });
}
