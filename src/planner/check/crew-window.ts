/**
 * Where work may lie: shift ∩ access ∩ light, outside breaks and holds (rule 3, reading 4), for one crew on one date at
 * one house; and what in that is the first thing to rule an interval out, in words.
 */
import { zoneOfJob, type Crew, type Job, type Trade } from "../../domain/company-schema.js";
import { formatAt, type CivilDate, type Interval } from "../../domain/time.js";
import { saySpan, type Evidence } from "./evidence.js";
import { accessSpans, holdSpans, lightSpans, listHolds, spanOfHold } from "./house.js";
import { mealBreakOf, shiftAt } from "./shift.js";
import { covers, intersect, overlaps, subtract, type Spans } from "./spans.js";

/** The minutes in which all of the trades may be worked; holds count only for those trades. */
export function windowOf(
  evidence: Evidence,
  crew: Crew,
  date: CivilDate,
  job: Job,
  trades: readonly Trade[],
): Interval[] {
  return subtract(windowWithoutHolds(evidence, crew, date, job, trades), holdSpans(evidence, job, trades));
}

/** The same as if nothing were held. */
export function windowWithoutHolds(
  evidence: Evidence,
  crew: Crew,
  date: CivilDate,
  job: Job,
  trades: readonly Trade[],
): Interval[] {
  const shift = shiftAt(evidence, crew, date, [job]);
  if (shift === null) return [];
  const pause = mealBreakOf(evidence, shift);
  const open = intersect([shift], accessSpans(evidence, job, shift));
  const lit = trades.some((trade) => trade.outdoor)
    ? intersect(open, lightSpans(evidence, job, shift))
    : open;
  return subtract(lit, pause === null ? [] : [pause]);
}

/** What the interval breaks first, as the end of a sentence; null where it lies in the window. */
export function whyOutside(
  evidence: Evidence,
  crew: Crew,
  date: CivilDate,
  job: Job,
  trades: readonly Trade[],
  span: Interval,
): string | null {
  const shift = shiftAt(evidence, crew, date, [job]);
  if (shift === null) return `crew ${crew.name} has no shift on ${date}`;
  if (!covers([shift], span)) return `the shift is ${saySpan(shift, evidence.zone)}`;
  const zone = zoneOfJob(evidence.company, job);
  if (!covers(accessSpans(evidence, job, shift), span))
    return `the house is open from ${job.access?.join(" to ") ?? ""}`;
  const light = lightSpans(evidence, job, shift);
  if (trades.some((trade) => trade.outdoor) && !covers(light, span))
    return `there is light ${sayLight(light, span, zone)}`;
  const pause = mealBreakOf(evidence, shift);
  if (pause !== null && overlaps(pause, span)) return `the meal break is ${saySpan(pause, evidence.zone)}`;
  for (const hold of listHolds(evidence, job, trades)) {
    const held = spanOfHold(evidence, job, hold);
    if (overlaps(held, span)) return `hold ${hold.id} (${hold.why}) runs ${saySpan(held, zone)}`;
  }
  return null;
}

function sayLight(light: Spans, span: Interval, zone: string): string {
  const near = light.find((lit) => overlaps(lit, span));
  if (near === undefined) return "at no time of that";
  return `(with the margin) from ${formatAt(near.start, zone, "HH:mm", "en")} to ${formatAt(near.end, zone, "HH:mm", "en")}`;
}
