/**
 * When each house is finished by the work of a plan, and how many days late that is. Works from work alone, so that what
 * was published, which knows nothing of waits, is measured like a plan (readings 16 and 21).
 */
import { zoneOfJob, type Company, type Job, type Task } from "../../domain/company-schema.js";
import { endOfBusinessWait } from "../../domain/holidays.js";
import {
  addDays,
  civilDate,
  civilDateAt,
  dayStart,
  daysBetween,
  parseInstant,
  type Minute,
} from "../../domain/time.js";
import { sortByPrecedence } from "../compile/chains.js";
import { beganAt } from "../compile/promises.js";
import { needsCrew } from "../compile/staffing.js";
import { taskKey, type PlannedWork } from "./planned-work.js";

/**
 * Calendar days from the promised date of a house to the date on which its last open task ends; 0 where it is kept, where
 * nothing is promised, and where nothing is left to do. Null where it has no end: the work has not all of its open tasks.
 */
export function findLateDays(
  company: Company,
  job: Job,
  work: PlannedWork,
  asOf: Minute,
  options: EndOptions = {},
): number | null {
  const end = findJobEnd(company, job, work, asOf, options);
  if (end === null) return null;
  if (end === undefined || job.promised === null) return 0;
  const zone = zoneOfJob(company, job);
  const promised = civilDate(job.promised);
  if (end <= dayStart(addDays(promised, 1), zone)) return 0;
  return daysBetween(promised, civilDateAt(end - 1, zone));
}

export interface EndOptions {
  /** Tasks (by `taskKey`) that need no crew and have no end all the same. */
  readonly endless?: ReadonlySet<string>;
  /** Open tasks without work are passed over; null then only where none has any. */
  readonly ofSome?: boolean;
}

/** Undefined where no task is open, null where one has no end. */
export function findJobEnd(
  company: Company,
  job: Job,
  work: PlannedWork,
  asOf: Minute,
  { endless, ofSome = false }: EndOptions = {},
): Minute | null | undefined {
  const open = job.tasks.filter((task) => task.status !== "done");
  if (open.length === 0) return undefined;
  const ends = new Map<string, Minute>();
  const isPlain = open.every(needsCrew);
  for (const task of isPlain ? open : sortByPrecedence(job.tasks)) {
    if (task.status === "done") continue;
    const key = taskKey(job.id, task.id);
    const end = needsCrew(task)
      ? work.get(key)?.end
      : endless?.has(key)
        ? undefined
        : endWithoutWork(company, job, task, ends, asOf);
    if (end !== undefined) ends.set(task.id, end);
    else if (!ofSome) return null;
  }
  const isKnown = open.some((task) => work.has(taskKey(job.id, task.id)));
  return isKnown || !ofSome ? Math.max(...ends.values()) : null;
}

/** The end of a wait, or of a task with nothing left to do; undefined where what it follows has none. */
function endWithoutWork(
  company: Company,
  job: Job,
  task: Task,
  ends: ReadonlyMap<string, Minute>,
  asOf: Minute,
): Minute | undefined {
  const zone = zoneOfJob(company, job);
  const isBegun = task.status === "under-way";
  let start = asOf;
  if (!isBegun) {
    for (const { task: id, lagHours } of task.after) {
      const before = job.tasks.find((other) => other.id === id);
      const end =
        before?.status === "done"
          ? before.finishedAt === null
            ? -Infinity
            : parseInstant(before.finishedAt, zone)
          : ends.get(id);
      if (end === undefined) return undefined;
      start = Math.max(start, end + Math.ceil(lagHours * 60));
    }
    if (task.notBefore !== null) start = Math.max(start, parseInstant(task.notBefore, zone) ?? start);
    for (const id of task.needs) {
      const delivery = job.deliveries.find((known) => known.id === id);
      if (!delivery || delivery.received) continue;
      const usable = addDays(civilDate(delivery.expected), company.policy.deliveryBufferDays);
      start = Math.max(start, dayStart(usable, zone));
    }
  }
  if (task.trade !== null) return start;
  const from = isBegun ? beganAt(company, job, task, asOf) : start;
  const waited = endOfBusinessWait(from, task.waitBusinessDays ?? 0, zone, company.company.timeZone);
  return Math.max(waited, asOf);
}
