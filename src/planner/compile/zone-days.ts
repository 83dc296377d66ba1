/**
 * The days of one zone as minutes, each asked of the calendar only once: day index 0 is a given date.
 */
import {
  dateOfDayNumber,
  dayNumber,
  dayStart,
  minuteAt,
  parseClockTime,
  parseInstant,
  toIso,
  type CivilDate,
  type ClockTime,
} from "../../domain/time.js";
import { present } from "../../domain/result.js";
import type { DayStarts } from "../core/problem.js";

const MINUTES_PER_DAY = 1440;

export class ZoneDays implements DayStarts {
  private readonly starts: number[] = [];
  private readonly dates: CivilDate[] = [];
  /** What stands before and behind the clock time in the ISO times of a day. */
  private readonly heads: string[] = [];
  private readonly tails: string[] = [];
  private readonly firstDay: number;

  constructor(
    readonly zone: string,
    firstDate: CivilDate,
  ) {
    this.firstDay = dayNumber(firstDate);
  }

  date(day: number): CivilDate {
    return (this.dates[day] ??= dateOfDayNumber(this.firstDay + day));
  }

  at(day: number): number {
    return (this.starts[day] ??= dayStart(this.date(day), this.zone));
  }

  dayOf(minute: number): number {
    let day = Math.max(0, Math.floor((minute - this.at(0)) / MINUTES_PER_DAY));
    while (day > 0 && this.at(day) > minute) day--;
    while (this.at(day + 1) <= minute) day++;
    return day;
  }

  /** The instant at which a wall clock shows a time on a day. */
  clock(day: number, time: ClockTime): number {
    const start = this.at(day);
    const minutes = parseClockTime(time) ?? 0;
    return this.at(day + 1) - start === MINUTES_PER_DAY
      ? start + minutes
      : minuteAt(this.date(day), time, this.zone);
  }

  /** The minute of an ISO time that has been checked; without an offset it is wall time of this zone. */
  parse(iso: string): number {
    return present(parseInstant(iso, this.zone), `the time "${iso}"`);
  }

  /** ISO 8601 with offset. Only a day on which the clocks change is worth asking the calendar for each minute. */
  iso(minute: number): string {
    const day = this.dayOf(minute);
    const start = this.at(day);
    if (minute < start || this.at(day + 1) - start !== MINUTES_PER_DAY) return toIso(minute, this.zone);
    const head = (this.heads[day] ??= `${this.date(day)}T`);
    const tail = (this.tails[day] ??= `:00${offsetText((this.firstDay + day) * MINUTES_PER_DAY - start)}`);
    return head + clockText(minute - start) + tail;
  }
}

/** Minutes ahead of UTC as ±HH:MM. */
function offsetText(minutes: number): string {
  return `${minutes < 0 ? "-" : "+"}${clockText(Math.abs(minutes))}`;
}

const twoDigits = Array.from({ length: 100 }, (_, number) => String(number).padStart(2, "0"));

/** Minutes as HH:MM. */
function clockText(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  return `${twoDigits[hours] ?? ""}:${twoDigits[minutes - hours * 60] ?? ""}`;
}
