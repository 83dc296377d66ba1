/**
 * One crew's day as it was published beside the day that the plan has for it. A plan knows nothing of the hours before it
 * was made, and of work that it was not told about it thinks that all is still to do: so of a day that has begun, the past
 * is left out on both sides, and what matters is the work, not its minutes.
 */
import type { PublishedBlock, Task } from "../domain/company-schema.js";
import type { PlanBlock } from "../domain/plan-format.js";
import type { CivilDate, Minute } from "../domain/time.js";
import { taskKey, type DateReader, type PlannedWork } from "../planner/ways-out/planned-work.js";

/**
 * "as-published": the same work, at the same times. "other-times": the same work, begun or ended at other times.
 * "later-days": of a day that has begun, the crew has some of the work on a later day by now, and nothing else there.
 * "other-work": other tasks than were published, none, or some where none were. "has-work": only pieces of work are
 * published, and the plan has them on that day, among others. "released": a person has let the plan move it.
 * "unpublished": nothing is published.
 */
export type SheetState =
  "as-published" | "other-times" | "later-days" | "other-work" | "has-work" | "released" | "unpublished";

/** What begins or ends at another time: the day, or a task. */
export interface MovedTime {
  readonly what: "start" | "end" | { readonly job: string; readonly task: string };
  /** When it does by the plan. */
  readonly at: Minute;
}

export interface LaterWork {
  readonly job: string;
  readonly task: string;
  /** The next day on which the crew has it. */
  readonly date: CivilDate;
}

export interface DayComparison {
  readonly state: SheetState;
  /** The first time that has moved so far that a crew should know; of a day that has begun, none. */
  readonly movedTime: MovedTime | null;
  /** Of "later-days". */
  readonly laterWork: readonly LaterWork[];
}

export interface DayToCompare {
  readonly crew: string;
  readonly date: CivilDate;
  readonly published: readonly PublishedBlock[];
  readonly planned: readonly PlanBlock[];
  /** Whether whole days are published, or only pieces of work. */
  readonly isWhole: boolean;
}

export interface PlanToCompare {
  readonly asOf: Minute;
  readonly dates: DateReader;
  readonly work: PlannedWork;
  taskOf(job: string, task: string): Task | undefined;
}

export function compareDay(day: DayToCompare, plan: PlanToCompare): DayComparison {
  const { published, planned, isWhole } = day;
  const as = (state: SheetState, more: Partial<DayComparison> = {}): DayComparison => ({
    state,
    movedTime: null,
    laterWork: [],
    ...more,
  });
  if (published.some(({ released }) => released)) return as("released");
  if (!isWhole && published.length === 0) return as("unpublished");
  const hasBegun = day.date <= plan.dates.dateOf(plan.asOf);
  const ahead = hasBegun ? withoutPast(published, plan) : toTimed(published, plan);
  const now = toTimed(planned, plan);
  const [all, wanted, there] = [tasksOf(toTimed(published, plan)), tasksOf(ahead), tasksOf(now)];
  // Of pieces of work those that are done count as kept; a day without its work is another day.
  const isMissed = (work: { readonly job: string; readonly task: string }): boolean =>
    isWhole || !isDone({ kind: "work", ...work }, plan);
  const missing = [...wanted].filter(([key, work]) => !there.has(key) && isMissed(work));
  if (isWhole && [...there.keys()].some((key) => !all.has(key))) return as("other-work");
  if (missing.length > 0) {
    const later = hasBegun && isWhole ? missing.flatMap(([key]) => findLater(key, day, plan)) : [];
    return later.length === missing.length ? as("later-days", { laterWork: later }) : as("other-work");
  }
  if (!isWhole) return as("has-work");
  if (timesOf(ahead) === timesOf(now)) return as("as-published");
  return as("other-times", { movedTime: hasBegun ? null : findMovedTime(ahead, now) });
}

interface TimedBlock {
  readonly block: PlanBlock | PublishedBlock;
  readonly start: Minute;
  readonly end: Minute;
}

function toTimed(
  blocks: readonly (PlanBlock | PublishedBlock)[],
  { dates }: PlanToCompare,
): readonly TimedBlock[] {
  return blocks
    .map((block) => ({ block, start: dates.minuteOf(block.start), end: dates.minuteOf(block.end) }))
    .sort((a, b) => a.start - b.start || a.end - b.end);
}

/** What goes on at the minute of the plan begins with it; work that is done by then is no longer ahead. */
function withoutPast(blocks: readonly PublishedBlock[], plan: PlanToCompare): readonly TimedBlock[] {
  return toTimed(blocks, plan)
    .filter(({ block, end }) => end > plan.asOf && !isDone(block, plan))
    .map(({ block, start, end }) => ({ block, start: Math.max(start, plan.asOf), end }));
}

function isDone({ kind, job, task }: Pick<PlanBlock, "kind" | "job" | "task">, plan: PlanToCompare): boolean {
  return kind === "work" && job !== null && task !== null && plan.taskOf(job, task)?.status === "done";
}

type Work = ReadonlyMap<string, { readonly job: string; readonly task: string; readonly start: Minute }>;

/** Each task once, with its first start. */
function tasksOf(blocks: readonly TimedBlock[]): Work {
  const found = new Map<string, { job: string; task: string; start: Minute }>();
  for (const { block, start } of blocks) {
    const { kind, job, task } = block;
    if (kind !== "work" || job === null || task === null) continue;
    const key = taskKey(job, task);
    if (!found.has(key)) found.set(key, { job, task, start });
  }
  return found;
}

/** Empty where its crew does not have it on a later day, or another one has some of it. */
function findLater(key: string, { crew, date }: DayToCompare, { work }: PlanToCompare): LaterWork[] {
  const planned = work.get(key);
  const next = planned?.days.find((day) => day.date > date);
  if (planned === undefined || next === undefined || planned.days.some((day) => day.crew !== crew)) return [];
  return [{ job: planned.job, task: planned.task, date: next.date }];
}

function timesOf(blocks: readonly TimedBlock[]): string {
  return blocks
    .map(({ block: { kind, job, task }, start, end }) =>
      [kind, taskKey(job ?? "", task ?? ""), start, end].join(" "),
    )
    .sort()
    .join();
}

/** Less is nothing that a crew would plan by. */
const LEAST_MINUTES = 10;

function findMovedTime(before: readonly TimedBlock[], now: readonly TimedBlock[]): MovedTime | null {
  const hasMoved = (one: Minute | undefined, other: Minute | undefined): other is Minute =>
    one !== undefined && other !== undefined && Math.abs(one - other) >= LEAST_MINUTES;
  const start = now[0]?.start;
  if (hasMoved(before[0]?.start, start)) return { what: "start", at: start };
  const known = tasksOf(before);
  for (const [key, { job, task, start: at }] of tasksOf(now)) {
    if (hasMoved(known.get(key)?.start, at)) return { what: { job, task }, at };
  }
  const end = now.at(-1)?.end;
  return hasMoved(before.at(-1)?.end, end) ? { what: "end", at: end } : null;
}
