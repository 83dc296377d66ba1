/** A crew does one task at a time: of any two tasks on one crew, one ends before the other starts. */
import type { Span } from "./schedule.js";

/** A sentence for each task that starts while its crew is still at another one. */
export function listDoubleBookings(spans: readonly Span[]): string[] {
  const broken: string[] = [];
  const byCrew = new Map<number, number[]>();
  spans.forEach(({ crew }, task) => byCrew.set(crew, [...(byCrew.get(crew) ?? []), task]));
  for (const [crew, tasks] of byCrew) {
    const inTime = tasks
      .map((task) => ({ task, start: spans[task]?.start ?? 0, end: spans[task]?.end ?? 0 }))
      .sort((left, right) => left.start - right.start || left.end - right.end);
    inTime.forEach((next, place) => {
      const last = inTime[place - 1];
      if (last !== undefined && next.start < last.end) {
        broken.push(
          `crew ${crew + 1} starts task ${next.task + 1} at ${next.start}, but is at task ${last.task + 1} until ${last.end}`,
        );
      }
    });
  }
  return broken;
}
