/**
 * Which tasks are worked on other days or by other crews in one set of blocks than in another: what was published against
 * a plan, or one publication against the next. A task's days are dates of the company's zone, as crew-days are.
 */
import type { Company, Job, Task } from "../domain/company-schema.js";
import { civilDateAt, type CivilDate } from "../domain/time.js";
import { instantOf } from "./reading.js";

/** A block of a plan or of what is published. */
export interface WorkBlock {
  readonly crew: string;
  readonly kind: string;
  readonly job: string | null;
  readonly task: string | null;
  readonly start: string;
}

export interface CrewDay {
  readonly crew: string;
  readonly date: CivilDate;
}

/** A task that is not done, and where it was and is worked; in order of dates, each crew-day once. */
export interface MovedTask {
  readonly job: Job;
  readonly task: Task;
  /** Empty where it was in no block before. */
  readonly before: readonly CrewDay[];
  /** Empty where it is in no block now. */
  readonly after: readonly CrewDay[];
}

/** By house and task, the days on which it is worked. */
export type TaskDays = ReadonlyMap<string, readonly CrewDay[]>;

export const taskKey = (job: string, task: string): string => `${job}\n${task}`;

/**
 * The days that count on `today`: those from then on; where there are none any more, the last one, on which the work was
 * to be and was not reported done.
 */
export function listTaskDays(blocks: readonly WorkBlock[], zone: string, today: CivilDate): TaskDays {
  const days = new Map<string, CrewDay[]>();
  for (const block of blocks) {
    if (block.kind !== "work" || block.job === null || block.task === null) continue;
    const date = civilDateAt(instantOf(block.start, zone), zone);
    const key = taskKey(block.job, block.task);
    const known = days.get(key) ?? [];
    if (!known.some((day) => day.crew === block.crew && day.date === date)) {
      days.set(key, [...known, { crew: block.crew, date }]);
    }
  }
  for (const [key, all] of days) {
    all.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.crew < b.crew ? -1 : 1));
    const ahead = all.filter(({ date }) => date >= today);
    days.set(key, ahead.length > 0 ? ahead : all.slice(-1));
  }
  return days;
}

/** The tasks that moved, in the order of the file; what is done has no place any more. */
export function listMovedTasks(company: Company, before: TaskDays, after: TaskDays): readonly MovedTask[] {
  return company.jobs.flatMap((job) =>
    job.tasks.flatMap((task): MovedTask[] => {
      if (task.status === "done") return [];
      const key = taskKey(job.id, task.id);
      const [old, now] = [before.get(key) ?? [], after.get(key) ?? []];
      return isSameDays(old, now) ? [] : [{ job, task, before: old, after: now }];
    }),
  );
}

function isSameDays(left: readonly CrewDay[], right: readonly CrewDay[]): boolean {
  return (
    left.length === right.length &&
    left.every(({ crew, date }, index) => crew === right[index]?.crew && date === right[index].date)
  );
}
