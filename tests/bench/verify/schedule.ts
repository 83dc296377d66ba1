/**
 * An answer as the verifiers read it: for each task of the file its start, its end and who does it. Verifiers look at
 * nothing but this and the data of the file, never at the planner's own problem or decoder.
 */
export interface Schedule {
  readonly starts: ArrayLike<number>;
  readonly ends: ArrayLike<number>;
  /** Crew by task; −1 where it takes none. */
  readonly crews: ArrayLike<number>;
}

export interface Span {
  readonly start: number;
  readonly end: number;
  readonly crew: number;
}

/**
 * The schedule by task, or a sentence where it does not speak of `count` tasks in whole minutes from 0 on.
 */
export function toSpans({ starts, ends, crews }: Schedule, count: number): readonly Span[] | string {
  if (starts.length !== count || ends.length !== count || crews.length !== count) {
    return `the schedule speaks of ${starts.length} starts, ${ends.length} ends and ${crews.length} crews; there are ${count} tasks`;
  }
  const spans: Span[] = [];
  for (let task = 0; task < count; task++) {
    const start = starts[task] ?? Number.NaN;
    const end = ends[task] ?? Number.NaN;
    if (!Number.isInteger(start) || !Number.isInteger(end) || start < 0) {
      return `task ${task + 1} runs from ${start} to ${end}, which are not minutes of the schedule`;
    }
    spans.push({ start, end, crew: crews[task] ?? -1 });
  }
  return spans;
}

/** The end of the last task. */
export function makespanOf({ ends }: Schedule): number {
  let latest = 0;
  for (let task = 0; task < ends.length; task++) latest = Math.max(latest, ends[task] ?? 0);
  return latest;
}
