/**
 * Business days: Monday to Friday, less the public holidays of the company's country, substitute days included.
 * The one importer of date-holidays and countries-and-timezones. Where a zone belongs to no country, or holidays of
 * the country are not known, Monday to Friday. Regional holidays are left out: an inspector's office may keep more.
 */
import { getTimezone } from "countries-and-timezones";
import Holidays from "date-holidays";
import { invariant } from "./result.js";
import {
  addDays,
  civilDate,
  civilDateAt,
  dayStart,
  weekdayOf,
  type CivilDate,
  type Minute,
  type Weekday,
} from "./time.js";

/** Whether offices work on that date in the country that `companyZone` belongs to. */
export function isBusinessDay(date: CivilDate, companyZone: string): boolean {
  const weekday = weekdayOf(date);
  if (weekday === "sat" || weekday === "sun") return false;
  const country = countryOf(companyZone);
  return country === undefined || !holidaysOf(country, Number(date.slice(0, 4))).has(date);
}

/**
 * The midnight (at the site) that ends the n-th full business day after an instant; `after` itself for n = 0.
 * A day that starts exactly at `after` counts as full.
 */
export function endOfBusinessWait(
  after: Minute,
  businessDays: number,
  siteZone: string,
  companyZone: string,
): Minute {
  if (businessDays <= 0) return after;
  const today = civilDateAt(after, siteZone);
  let date = dayStart(today, siteZone) === after ? today : addDays(today, 1);
  let left = businessDays;
  for (;;) {
    if (isBusinessDay(date, companyZone)) left -= 1;
    date = addDays(date, 1);
    if (left === 0) return dayStart(date, siteZone);
  }
}

const countries = new Map<string, string | undefined>();
const calendars = new Map<string, Holidays>();
const holidays = new Map<string, ReadonlySet<CivilDate>>();

/** ISO country code. A zone that several countries share is the first's, which is the one it is named for. */
function countryOf(zone: string): string | undefined {
  if (!countries.has(zone)) {
    // A zone may be written in lower case; the engine knows its proper name.
    const proper = new Intl.DateTimeFormat("en", { timeZone: zone }).resolvedOptions().timeZone;
    countries.set(zone, (getTimezone(zone) ?? getTimezone(proper))?.countries[0]);
  }
  return countries.get(zone);
}

function holidaysOf(country: string, year: number): ReadonlySet<CivilDate> {
  const key = `${country} ${year}`;
  const known = holidays.get(key);
  if (known) return known;
  // A substitute day may lie in the year before its holiday (New Year's Day 2028: Friday 31 December 2027).
  const dates = new Set([year - 1, year, year + 1].flatMap((about) => listHolidays(country, about)));
  holidays.set(key, dates);
  return dates;
}

function listHolidays(country: string, year: number): CivilDate[] {
  const calendar = calendars.get(country) ?? new Holidays(country, { types: ["public"] });
  calendars.set(country, calendar);
  const dates = calendar.getHolidays(year).flatMap((holiday) => {
    const hours = (holiday.end.getTime() - holiday.start.getTime()) / 3_600_000;
    return datesCovered(holiday.date, hours);
  });
  return country === "US" ? dates.flatMap(withUnitedStatesSubstitute) : dates;
}

/** The dates on whose noon a holiday runs: one may last several days, or begin at sunset or at two in the afternoon. */
function datesCovered(start: string, hours: number): CivilDate[] {
  const date = civilDate(start.slice(0, 10));
  const startHour = Number(start.slice(11, 13));
  invariant(
    Number.isFinite(hours) && Number.isFinite(startHour),
    `the holiday on ${start} has a start and an end`,
  );
  const covered: CivilDate[] = [];
  for (let day = 0; day * 24 + 12 < startHour + hours; day += 1) {
    if (day * 24 + 12 >= startHour) covered.push(addDays(date, day));
  }
  return covered;
}

const SUBSTITUTE_DAYS: Partial<Record<Weekday, number>> = { sat: -1, sun: 1 };

/**
 * Every United States holiday on a Saturday is kept on the Friday before (5 U.S.C. 6103(b)), one on a Sunday on the
 * Monday after (Executive Order 11582); the library leaves this out for some of them (Veterans Day 2028).
 */
function withUnitedStatesSubstitute(date: CivilDate): CivilDate[] {
  const shift = SUBSTITUTE_DAYS[weekdayOf(date)];
  return shift === undefined ? [date] : [date, addDays(date, shift)];
}
