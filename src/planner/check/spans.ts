/**
 * Sets of minutes as sorted, disjoint, half-open intervals, for the checker alone.
 * Written for plainness: the planner has its own.
 */
import type { Interval, Minute } from "../../domain/time.js";

export type Spans = readonly Interval[];

/** Sorted, without empty ones, touching ones joined. */
export function unite(intervals: Spans): Interval[] {
  const united: Interval[] = [];
  for (const next of [...intervals].filter((i) => i.end > i.start).sort((a, b) => a.start - b.start)) {
    const last = united.at(-1);
    if (last !== undefined && next.start <= last.end) {
      united[united.length - 1] = { start: last.start, end: Math.max(last.end, next.end) };
    } else {
      united.push(next);
    }
  }
  return united;
}

export function intersect(a: Spans, b: Spans): Interval[] {
  return unite(
    a.flatMap((x) => b.map((y) => ({ start: Math.max(x.start, y.start), end: Math.min(x.end, y.end) }))),
  );
}

export function subtract(from: Spans, taken: Spans): Interval[] {
  return taken.reduce<Interval[]>(
    (left, hole) =>
      left
        .flatMap((i) => [
          { start: i.start, end: Math.min(i.end, hole.start) },
          { start: Math.max(i.start, hole.end), end: i.end },
        ])
        .filter((i) => i.end > i.start),
    unite(from),
  );
}

export const minutesIn = (spans: Spans): number => spans.reduce((sum, i) => sum + i.end - i.start, 0);

export const minutesBetween = (spans: Spans, start: Minute, end: Minute): number =>
  minutesIn(intersect(spans, [{ start, end }]));

/** Whether every minute of the interval is in the set. */
export const covers = (spans: Spans, { start, end }: Interval): boolean =>
  minutesBetween(spans, start, end) === Math.max(0, end - start);

export const overlaps = (a: Interval, b: Interval): boolean => a.start < b.end && b.start < a.end;
