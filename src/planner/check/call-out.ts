/**
 * What a crew could make of a day if it were called out to one house and nowhere else: the first minute at which it could
 * work there and the last, with load, drive, setup, cleanup and the drive home around it (reading 9).
 */
import type { Crew, Job, Trade } from "../../domain/company-schema.js";
import type { CivilDate, Interval, Minute } from "../../domain/time.js";
import { windowOf } from "./crew-window.js";
import type { Evidence } from "./evidence.js";
import { mealBreakOf, shiftAt } from "./shift.js";
import { minutesBetween, subtract, type Spans } from "./spans.js";
import { LOAD_MINUTES, travelMinutes } from "./travel.js";

/**
 * Less than this left unused between two days' work is not held against a plan: the checker would rather be right
 * than strict.
 */
export const LEAST_USABLE_MINUTES = 30;

interface CallOut {
  readonly crew: Crew;
  readonly date: CivilDate;
  readonly job: Job;
  /** All trades of the stay. */
  readonly trades: readonly Trade[];
}

/** The minute at which work could begin if the crew set out no earlier than `from`; undefined where it cannot. */
export function firstWorkMinute(
  evidence: Evidence,
  { crew, date, job, trades }: CallOut,
  from: Minute,
): Minute | undefined {
  const shift = shiftAt(evidence, crew, date, [job]);
  if (shift === null) return undefined;
  const road = subtract([shift], asList(mealBreakOf(evidence, shift)));
  const drive = driveMinutes(evidence, crew, job);
  let at: Minute | undefined = Math.max(shift.start, from);
  if (drive !== null) {
    at = earliestEnd(road, LOAD_MINUTES, at);
    at = at === undefined ? undefined : earliestEnd(road, drive, at);
  }
  if (at === undefined) return undefined;
  const window = windowOf(evidence, crew, date, job, trades);
  const ready = earliestEnd(window, Math.max(0, ...trades.map((trade) => trade.setupMinutes)), at);
  // Ready at the very end of a window (a meal break begins), the crew works from the start of the next.
  const next = ready === undefined ? undefined : window.find((span) => span.end > ready);
  return ready === undefined || next === undefined ? undefined : Math.max(ready, next.start);
}

/** The minute by which work must end so that `closing` minutes of cover-up and cleanup and the way home still fit. */
export function lastWorkMinute(
  evidence: Evidence,
  { crew, date, job, trades }: CallOut,
  closing: number,
): Minute | undefined {
  const shift = shiftAt(evidence, crew, date, [job]);
  if (shift === null) return undefined;
  const road = subtract([shift], asList(mealBreakOf(evidence, shift)));
  const leave = latestStart(road, driveMinutes(evidence, crew, job) ?? 0, shift.end);
  return leave === undefined
    ? undefined
    : latestStart(windowOf(evidence, crew, date, job, trades), closing, leave);
}

/** Minutes of work in a trade that a call-out on that day would allow, setting out no earlier than `from`. */
export function usableMinutes(
  evidence: Evidence,
  crew: Crew,
  date: CivilDate,
  job: Job,
  trade: Trade,
  from: Minute,
): number {
  const callOut: CallOut = { crew, date, job, trades: [trade] };
  const first = firstWorkMinute(evidence, callOut, from);
  const last = lastWorkMinute(evidence, callOut, trade.cleanupMinutes);
  if (first === undefined || last === undefined) return 0;
  return minutesBetween(windowOf(evidence, crew, date, job, [trade]), first, Math.max(first, last));
}

function driveMinutes({ company }: Evidence, crew: Crew, job: Job): number | null {
  const { yard } = company.company;
  return crew.startsAt === "yard" && yard !== null ? travelMinutes(company, yard, job.site).most : null;
}

const asList = (span: Interval | null): Interval[] => (span === null ? [] : [span]);

function earliestEnd(spans: Spans, length: number, from: Minute): Minute | undefined {
  const span = spans.find((s) => Math.max(from, s.start) + length <= s.end);
  return span === undefined ? undefined : Math.max(from, span.start) + length;
}

function latestStart(spans: Spans, length: number, until: Minute): Minute | undefined {
  const span = spans.findLast((s) => Math.min(until, s.end) - length >= s.start);
  return span === undefined ? undefined : Math.min(until, span.end) - length;
}
