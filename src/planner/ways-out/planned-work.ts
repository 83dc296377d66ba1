/**
 * Who works each task on which dates: what two plans are compared by. Read from the blocks of a plan or of what was
 * published; dates are the crews' dates (the company's zone).
 */
import type { Company, PublishedBlock } from "../../domain/company-schema.js";
import type { PlanBlock } from "../../domain/plan-format.js";
import {
  dateOfDayNumber,
  dayStart,
  MINUTES_PER_DAY,
  parseInstant,
  type CivilDate,
  type Minute,
} from "../../domain/time.js";
import { present } from "../../domain/result.js";

export interface CrewDate {
  readonly crew: string;
  readonly date: CivilDate;
}

/** The work of one task. */
export interface TaskWork {
  readonly job: string;
  readonly task: string;
  /** Each crew and date once, in order of time. */
  readonly days: readonly CrewDate[];
  readonly start: Minute;
  readonly end: Minute;
}

/** By `taskKey`. */
export type PlannedWork = ReadonlyMap<string, TaskWork>;

export function taskKey(job: string, task: string): string {
  return `${job}/${task}`;
}

/** One stretch of work on a task. */
export interface WorkSpan {
  readonly job: string;
  readonly task: string;
  readonly crew: string;
  readonly date: CivilDate;
  readonly start: Minute;
  readonly end: Minute;
}

/** The work in blocks that a company's planner or desk has written; blocks of other kinds say nothing here. */
export function readWork(company: Company, blocks: readonly (PlanBlock | PublishedBlock)[]): PlannedWork {
  const dates = new DateReader(company.company.timeZone);
  return collectWork(
    blocks.flatMap((block): WorkSpan[] => {
      if (block.kind !== "work" || block.job === null || block.task === null) return [];
      const start = dates.minuteOf(block.start);
      const { job, task, crew } = block;
      return [{ job, task, crew, date: dates.dateOf(start), start, end: dates.minuteOf(block.end) }];
    }),
  );
}

/** Stretches of work put together by task. */
export function collectWork(spans: readonly WorkSpan[]): PlannedWork {
  const found = new Map<
    string,
    { job: string; task: string; days: CrewDate[]; start: Minute; end: Minute }
  >();
  for (const { job, task, crew, date, start, end } of spans) {
    const key = taskKey(job, task);
    const known = found.get(key);
    if (!known) {
      found.set(key, { job, task, days: [{ crew, date }], start, end });
      continue;
    }
    known.start = Math.min(known.start, start);
    known.end = Math.max(known.end, end);
    if (!known.days.some((day) => day.crew === crew && day.date === date)) known.days.push({ crew, date });
  }
  for (const { days } of found.values())
    days.sort((a, b) => compareTexts(a.date, b.date) || compareTexts(a.crew, b.crew));
  return found;
}

/** Order by code units: the same on every machine. */
export function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Minutes and dates of one zone; a date is looked for among its neighbours, without asking a calendar. */
export class DateReader {
  private readonly starts = new Map<number, Minute>();
  private readonly dates = new Map<number, CivilDate>();
  /** Minute at which the clock shows midnight, by date and offset. */
  private readonly midnights = new Map<string, Minute>();

  constructor(private readonly zone: string) {}

  /** Of an ISO time that has been checked; without an offset it is wall time of the zone. */
  minuteOf(iso: string): Minute {
    if (iso.length !== FULL_LENGTH) return this.parse(iso);
    // Plans write every time in full, and there are thousands on few dates.
    const key = iso.slice(0, 10) + iso.slice(19);
    let midnight = this.midnights.get(key);
    if (midnight === undefined)
      this.midnights.set(key, (midnight = this.parse(`${iso.slice(0, 10)}T00:00:00${iso.slice(19)}`)));
    return midnight + Number(iso.slice(11, 13)) * 60 + Number(iso.slice(14, 16));
  }

  dateOf(minute: Minute): CivilDate {
    let day = Math.floor(minute / MINUTES_PER_DAY);
    while (this.startOf(day) > minute) day -= 1;
    while (this.startOf(day + 1) <= minute) day += 1;
    let date = this.dates.get(day);
    if (date === undefined) this.dates.set(day, (date = dateOfDayNumber(day)));
    return date;
  }

  private parse(iso: string): Minute {
    return present(parseInstant(iso, this.zone), `the time "${iso}"`);
  }

  private startOf(day: number): Minute {
    let start = this.starts.get(day);
    if (start === undefined) this.starts.set(day, (start = dayStart(dateOfDayNumber(day), this.zone)));
    return start;
  }
}

/** `2027-03-16T07:20:00-04:00` */
const FULL_LENGTH = 25;

/** The dates of work, each once, in order. */
export function datesOf(days: readonly CrewDate[]): readonly CivilDate[] {
  return [...new Set(days.map(({ date }) => date))];
}

/** The same crews on the same dates. */
export function isSameDays(one: readonly CrewDate[], other: readonly CrewDate[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ crew, date }, place) => other[place]?.crew === crew && other[place]?.date === date)
  );
}
