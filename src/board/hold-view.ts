/**
 * The holds as people read them: when, what work, which houses, why. A hold without an offset is wall time of each house,
 * so its times are read in the company's zone for the page and not converted.
 */
import type { Company, Hold } from "../domain/company-schema.js";
import { addDays, civilDateAt, dayStart, type CivilDate } from "../domain/time.js";
import { instantOf } from "./reading.js";
import {
  clock,
  endDayAndClock,
  longDateWithin,
  shortDate,
  spanishHour,
  type Language,
} from "./spoken-time.js";

export interface HoldView {
  readonly id: string;
  /** "Wed 9 Dec, 1:00 pm to 4:00 pm", "Wednesday 9 December, all day". */
  readonly when: string;
  readonly trades: string;
  readonly jobs: string;
  readonly why: string;
  /** "entered by hand", "proposed from the forecast". */
  readonly source: string;
  /** Whether it is over at `now`. */
  readonly isPast: boolean;
}

const SOURCES = { hand: "entered by hand", forecast: "from the forecast" } as const;

/** All holds, the next one first, those that are over last. */
export function listHoldViews(company: Company, nowMinute: number): readonly HoldView[] {
  const zone = company.company.timeZone;
  return company.holds
    .map((hold) => ({
      hold,
      isPast: instantOf(hold.to, zone) <= nowMinute,
      from: instantOf(hold.from, zone),
    }))
    .sort((a, b) => Number(a.isPast) - Number(b.isPast) || a.from - b.from)
    .map(({ hold, isPast }) => buildHoldView(company, hold, isPast));
}

/** The holds that take any minute of a date, in the order of the file. */
export function listHoldsOn(company: Company, date: CivilDate): readonly HoldView[] {
  return holdsOn(company, date).map((hold) => buildHoldView(company, hold, false));
}

/** The same as they stand in the file. */
export function holdsOn(company: Company, date: CivilDate): readonly Hold[] {
  const zone = company.company.timeZone;
  const start = dayStart(date, zone);
  const end = dayStart(addDays(date, 1), zone);
  return company.holds.filter((hold) => instantOf(hold.from, zone) < end && instantOf(hold.to, zone) > start);
}

/** One hold in words. */
export function buildHoldView(company: Company, hold: Hold, isPast: boolean): HoldView {
  return {
    id: hold.id,
    when: holdTimes(company, hold, "en"),
    trades: tradesText(company, hold),
    jobs: jobsText(company, hold),
    why: hold.why === "" ? "no reason given" : hold.why,
    source: SOURCES[hold.source],
    isPast,
  };
}

interface TimeWords {
  readonly allDay: string;
  readonly days: (first: string, last: string) => string;
  readonly until: (clock: string) => string;
  readonly onwards: (clock: string) => string;
  readonly between: (start: string, end: string) => string;
  /** Where the days differ, each with its clock time. */
  readonly over: (start: string, end: string) => string;
}

const TIME_WORDS = {
  en: {
    allDay: "all day",
    days: (first, last) => `${first} to ${last}`,
    until: (at) => `until ${at}`,
    onwards: (at) => `from ${at} on`,
    between: (start, end) => `${start} to ${end}`,
    over: (start, end) => `${start} to ${end}`,
  },
  es: {
    allDay: "todo el día",
    days: (first, last) => `del ${first} al ${last}`,
    until: (at) => `hasta ${spanishHour(at)}`,
    onwards: (at) => `desde ${spanishHour(at)}`,
    between: (start, end) => `de ${spanishHour(start)} a ${spanishHour(end)}`,
    over: (start, end) => `del ${start} al ${end}`,
  },
} as const satisfies Record<Language, TimeWords>;

/** When a hold holds, in the company's zone, as it is said within a sentence. */
export function holdTimes(company: Company, hold: Hold, language: Language): string {
  const zone = company.company.timeZone;
  const words = TIME_WORDS[language];
  const from = instantOf(hold.from, zone);
  const to = instantOf(hold.to, zone);
  const first = civilDateAt(from, zone);
  const last = civilDateAt(to - 1, zone);
  const fromMidnight = from === dayStart(first, zone);
  const toMidnight = to === dayStart(addDays(last, 1), zone);
  const [start, end] = [clock(from, zone, language), clock(to, zone, language)];
  const day = shortDate(first, language);
  if (first !== last) {
    const days = words.days(day, shortDate(last, language));
    if (fromMidnight && toMidnight) return `${days}, ${words.allDay}`;
    return words.over(`${day}, ${start}`, endDayAndClock(to, zone, language));
  }
  if (fromMidnight && toMidnight) return `${longDateWithin(first, language)}, ${words.allDay}`;
  if (fromMidnight) return `${day}, ${words.until(end)}`;
  return `${day}, ${toMidnight ? words.onwards(start) : words.between(start, end)}`;
}

function tradesText(company: Company, hold: Hold): string {
  if (hold.trades === "outdoor") return "outdoor work";
  if (hold.trades === "all") return "all work";
  const names = hold.trades.map((id) => company.trades.find((trade) => trade.id === id)?.name.en ?? id);
  return names.length === 0 ? "no work" : names.join(", ");
}

function jobsText(company: Company, hold: Hold): string {
  if (hold.jobs === "all") return "every house";
  const names = hold.jobs.map((id) => company.jobs.find((job) => job.id === id)?.name ?? id);
  return names.length === 0 ? "no house" : names.join(", ");
}
