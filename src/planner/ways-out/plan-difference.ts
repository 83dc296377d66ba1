/**
 * What is different between two plans of a company: tasks moved, crew days, promised dates broken and saved, and the
 * calls that follow from it. Structured facts; sentences are for whoever shows them. Serves ways out, publishing, and
 * what has drifted since.
 */
import type { Company } from "../../domain/company-schema.js";
import type { CivilDate, Minute } from "../../domain/time.js";
import { listCalls, type Call } from "./calls.js";
import { findLateDays } from "./job-ends.js";
import {
  compareTexts,
  datesOf,
  DateReader,
  isSameDays,
  taskKey,
  type CrewDate,
  type PlannedWork,
  type TaskWork,
} from "./planned-work.js";

/** Who works a task when. */
export interface TaskPlace {
  /** Mostly one; what was published by hand may have more. */
  readonly crews: readonly string[];
  /** In order, each once; at least one. */
  readonly dates: readonly CivilDate[];
}

/** A task that another crew works, or on other dates. Null: not in that plan. */
export interface TaskMove {
  readonly job: string;
  readonly task: string;
  readonly before: TaskPlace | null;
  readonly after: TaskPlace | null;
}

/** A crew's day whose tasks, or their order, are no longer the same. */
export interface CrewDayChange {
  readonly date: CivilDate;
  readonly crew: string;
  readonly before: readonly TaskRef[];
  readonly after: readonly TaskRef[];
}

export interface TaskRef {
  readonly job: string;
  readonly task: string;
}

/**
 * A house whose promised date is missed before, after, or both. Null: no end is known, because a plan does not have all of
 * the house's work; before, because it has none of it.
 */
export interface PromiseChange {
  readonly job: string;
  readonly promised: CivilDate;
  /** Calendar days late; 0 is kept. */
  readonly lateBefore: number | null;
  readonly lateAfter: number | null;
  /** Broken: kept before and missed now. Saved: the other way round. Later, sooner, as-late: missed in both. */
  readonly kind: "broken" | "saved" | "later" | "sooner" | "as-late";
}

export interface PlanDifference {
  /** By house and task as in the company file. */
  readonly moved: readonly TaskMove[];
  /** By date, then in the order of the crews. */
  readonly days: readonly CrewDayChange[];
  /** The most days late first. */
  readonly promises: readonly PromiseChange[];
  readonly calls: readonly Call[];
}

/**
 * The difference between two plans' work, as far as it lies at `asOf` or after. Tasks that are done do not count. `leftOut`
 * are the tasks (by `taskKey`) that the later plan cannot hold: of those that need no crew the work says nothing. `was`
 * is the company as it was when the earlier plan was made, where what is open has changed since.
 */
export function findDifference(
  company: Company,
  before: PlannedWork,
  after: PlannedWork,
  asOf: Minute,
  leftOut: ReadonlySet<string> = new Set(),
  was: Company = company,
): PlanDifference {
  const today = new DateReader(company.company.timeZone).dateOf(asOf);
  const then = new Map<string, TaskWork>();
  const now = new Map<string, TaskWork>();
  const moved: TaskMove[] = [];
  for (const job of company.jobs) {
    for (const task of job.tasks) {
      if (task.status === "done") continue;
      const key = taskKey(job.id, task.id);
      const one = cutPast(before.get(key), today);
      const other = cutPast(after.get(key), today);
      if (one) then.set(key, one);
      if (other) now.set(key, other);
      if (isSameDays(one?.days ?? [], other?.days ?? [])) continue;
      moved.push({ job: job.id, task: task.id, before: toPlace(one), after: toPlace(other) });
    }
  }
  return {
    moved,
    days: listDayChanges(company, then, now),
    promises: listPromiseChanges(company, was, before, now, asOf, leftOut),
    calls: listCalls(company, then, now),
  };
}

/** Days gone by are history; of a task that has only such days the last, on which it should have been done. */
function cutPast(work: TaskWork | undefined, today: CivilDate): TaskWork | undefined {
  if (work === undefined || (work.days[0]?.date ?? today) >= today) return work;
  const days = work.days.filter(({ date }) => date >= today);
  return { ...work, days: days.length > 0 ? days : work.days.slice(-1) };
}

function toPlace(work: TaskWork | undefined): TaskPlace | null {
  return work ? { crews: [...new Set(work.days.map(({ crew }) => crew))], dates: datesOf(work.days) } : null;
}

/** Crew days by `date crew`, tasks in order of their start. */
function toCrewDays(work: PlannedWork): Map<string, { day: CrewDate; tasks: TaskWork[] }> {
  const days = new Map<string, { day: CrewDate; tasks: TaskWork[] }>();
  for (const task of work.values()) {
    for (const day of task.days) {
      const key = `${day.date} ${day.crew}`;
      const known = days.get(key);
      if (known) known.tasks.push(task);
      else days.set(key, { day, tasks: [task] });
    }
  }
  for (const { tasks } of days.values())
    tasks.sort((a, b) => a.start - b.start || compareTexts(a.job, b.job) || compareTexts(a.task, b.task));
  return days;
}

function listDayChanges(company: Company, before: PlannedWork, after: PlannedWork): CrewDayChange[] {
  const then = toCrewDays(before);
  const now = toCrewDays(after);
  const place = new Map(company.crews.map((crew, index) => [crew.id, index]));
  const changes: CrewDayChange[] = [];
  for (const key of new Set([...then.keys(), ...now.keys()])) {
    const one = then.get(key);
    const other = now.get(key);
    const day = (one ?? other)?.day;
    if (!day || isSameTasks(one?.tasks ?? [], other?.tasks ?? [])) continue;
    changes.push({ ...day, before: toRefs(one?.tasks ?? []), after: toRefs(other?.tasks ?? []) });
  }
  return changes.sort(
    (a, b) => compareTexts(a.date, b.date) || (place.get(a.crew) ?? -1) - (place.get(b.crew) ?? -1),
  );
}

const toRefs = (tasks: readonly TaskWork[]): TaskRef[] => tasks.map(({ job, task }) => ({ job, task }));

function isSameTasks(one: readonly TaskWork[], other: readonly TaskWork[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ job, task }, place) => other[place]?.job === job && other[place]?.task === task)
  );
}

function listPromiseChanges(
  company: Company,
  was: Company,
  before: PlannedWork,
  after: PlannedWork,
  asOf: Minute,
  endless: ReadonlySet<string>,
): PromiseChange[] {
  const stood = new Map(was.jobs.map((job) => [job.id, job]));
  return company.jobs
    .flatMap((job): PromiseChange[] => {
      // A house with nothing left to do has been finished when it was.
      if (job.promised === null || job.tasks.every(({ status }) => status === "done")) return [];
      const lateAfter = findLateDays(company, job, after, asOf, { endless });
      const old = stood.get(job.id) ?? job;
      const all = findLateDays(was, old, before, asOf, { endless });
      // Work that has come in since takes no end away from what was planned before.
      const lateBefore =
        all === null && lateAfter !== null ? findLateDays(was, old, before, asOf, { ofSome: true }) : all;
      // A house without an end before and after has lost nothing.
      const isEndless = lateBefore === null && lateAfter === null;
      const kind = isEndless ? "as-late" : kindOf(lateBefore ?? 0, lateAfter ?? Infinity);
      if (kind === null) return [];
      return [{ job: job.id, promised: job.promised as CivilDate, lateBefore, lateAfter, kind }];
    })
    .sort((a, b) => lateness(b) - lateness(a));
}

/** A house without an end comes before all others. */
function lateness({ lateAfter }: PromiseChange): number {
  return lateAfter ?? Number.MAX_SAFE_INTEGER;
}

function kindOf(before: number, after: number): PromiseChange["kind"] | null {
  if (before === 0) return after === 0 ? null : "broken";
  if (after === 0) return "saved";
  return after > before ? "later" : after < before ? "sooner" : "as-late";
}
