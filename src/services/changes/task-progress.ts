/**
 * How far a task has come: to do, under way or done, with the hours left, the crew and the times that go with each. What
 * does not go with the new status and only stood there from the old one goes; what was typed against it is a fault.
 * A status that is new is timed now where nobody says when.
 */
import { taskTitle } from "../../board/board-tags.js";
import { dayAndClock } from "../../board/spoken-time.js";
import type { Fault } from "../../domain/company-file.js";
import type { PartKey } from "../../domain/company-parts.js";
import {
  MAX_LABOR_HOURS,
  zoneOfJob,
  type Company,
  type Job,
  type Task,
} from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { parseInstant, type Minute } from "../../domain/time.js";
import { toWallText } from "../../domain/wall-text.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { listFaults, NOTHING_DIFFERS, refuse, refuseFields } from "./change-refusals.js";
import { listFromTo } from "./from-to.js";
import { editFields, editInJob } from "./source-edit.js";

/** What a person says of a task; null where she says nothing. */
export interface ProgressInput {
  readonly status: Task["status"];
  /** Labor-hours. */
  readonly leftHours: number | null;
  /** The crew that has begun it or has done it. */
  readonly doneBy: string | null;
  /** ISO 8601; without an offset wall time of the house. */
  readonly startedAt: string | null;
  readonly finishedAt: string | null;
}

export interface TaskProgress extends ChangeBase {
  readonly kind: "task-progress";
  readonly job: string;
  readonly task: string;
  readonly input: ProgressInput;
}

export const taskProgressRule: ChangeRule<TaskProgress> = {
  target: ({ job, task }): PartKey => `task/${job}/${task}`,
  apply: ({ source, company, nowMinute }, { job: jobId, task: id, input }) => {
    const found = findTask(company, jobId, id);
    if (found === undefined)
      return refuse("no-such-task", `There is no task "${id}" at this house any more.`);
    const { job, task, path } = found;
    const zone = zoneOfJob(company, job);
    const faults = listInputFaults(company, task, input, zone, nowMinute);
    if (faults.length > 0) {
      return refuseFields(faults.map((fault) => ({ ...fault, path: `${path}.${fault.path}` })));
    }
    const after = toProgress(task, input, zone, nowMinute);
    const edit = Object.fromEntries(
      Object.entries(after)
        .filter(([field, value]) => value !== task[field as keyof ProgressInput])
        .map(([field, value]) => [field, value ?? undefined]),
    );
    if (Object.keys(edit).length === 0) return NOTHING_DIFFERS;
    return ok(editInJob(source, jobId, "tasks", id, (body) => editFields(body, edit)));
  },
  say: (company, { job: jobId, task: id, input }) => {
    const found = findTask(company, jobId, id);
    if (found === undefined) return `Task ${id} changed.`;
    const { job, task } = found;
    const zone = zoneOfJob(company, job);
    // The minute at which it is written stands in the time itself.
    const after = toProgress(task, input, zone, undefined);
    const hours = (left: number | null): string => (left === null ? "" : String(left));
    const time = (text: string | null): string => spokenTime(text, zone);
    const crew = (crewId: string | null): string =>
      company.crews.find((candidate) => candidate.id === crewId)?.name ?? crewId ?? "";
    const changes = listFromTo([
      ["status", STATUSES[task.status], STATUSES[after.status]],
      ["hours left", hours(task.leftHours), hours(after.leftHours)],
      ["crew", crew(task.doneBy), crew(after.doneBy)],
      ["start", time(task.startedAt), time(after.startedAt)],
      ["finish", time(task.finishedAt), time(after.finishedAt)],
    ]);
    return `${taskTitle(task.title, task.area)} at ${job.name}: ${changes}.`;
  },
};

const STATUSES = { "to-do": "to do", "under-way": "under way", done: "done" } as const;

interface FoundTask {
  readonly job: Job;
  readonly task: Task;
  /** In the company file. */
  readonly path: string;
}

function findTask(company: Company, jobId: string, id: string): FoundTask | undefined {
  const jobIndex = company.jobs.findIndex((job) => job.id === jobId);
  const job = company.jobs[jobIndex];
  const index = job?.tasks.findIndex((task) => task.id === id) ?? -1;
  const task = job?.tasks[index];
  return job && task && { job, task, path: `jobs[${jobIndex}].tasks[${index}]` };
}

/** What is written: `now` undefined where a time of its own is not wanted. */
function toProgress(task: Task, input: ProgressInput, zone: string, now: Minute | undefined): ProgressInput {
  const { status } = input;
  const isNew = status !== task.status;
  const stamp = isNew && now !== undefined ? toWallText(now, zone) : null;
  const startedAt = keepWriting(input.startedAt, task.startedAt, zone);
  const finishedAt = keepWriting(input.finishedAt, task.finishedAt, zone);
  switch (status) {
    case "to-do":
      return { status, leftHours: null, doneBy: null, startedAt: null, finishedAt: null };
    case "under-way":
      return {
        status,
        leftHours: input.leftHours,
        doneBy: input.doneBy,
        startedAt: startedAt ?? stamp,
        finishedAt: null,
      };
    case "done":
      return { status, leftHours: null, doneBy: input.doneBy, startedAt, finishedAt: finishedAt ?? stamp };
  }
}

/** Paths within the task. */
function listInputFaults(
  company: Company,
  task: Task,
  input: ProgressInput,
  zone: string,
  now: Minute,
): readonly Fault[] {
  const { status, leftHours, doneBy } = input;
  const isWait = task.trade === null;
  const startedAt = keepWriting(input.startedAt, task.startedAt, zone);
  const finishedAt = keepWriting(input.finishedAt, task.finishedAt, zone);
  return listFaults([
    ["leftHours", findHoursFault(task, leftHours, status)],
    ["doneBy", findCrewFault(company, task, doneBy, status)],
    [
      "startedAt",
      status === "to-do" && startedAt !== task.startedAt
        ? "A task that is still to do has no start. Clear it, or choose under way."
        : findComing(startedAt, task.startedAt, zone, now, "The task cannot have begun"),
    ],
    [
      "finishedAt",
      status !== "done" && finishedAt !== task.finishedAt
        ? "Only a task that is done has a finish. Clear it, or choose done."
        : findComing(finishedAt, task.finishedAt, zone, now, "The task cannot have been finished"),
    ],
    [
      "status",
      isWait || status !== "under-way" || doneBy !== null || task.crew !== null ? undefined : NO_CREW,
    ],
  ]);
}

const NO_CREW = "Say which crew has begun it, so that the same crew goes on.";

function findHoursFault(task: Task, left: number | null, status: Task["status"]): string | undefined {
  if (left === null) return undefined;
  if (task.trade === null) return "A wait has no hours left: nobody works on it. Clear the hours.";
  if (Number.isNaN(left) || left < 0) return "Write the hours left as a number from 0 on, such as 6 or 4.5.";
  if (left > MAX_LABOR_HOURS) {
    return `${left.toLocaleString("en-US")} hours left are more than a task can have, which is ${MAX_LABOR_HOURS.toLocaleString("en-US")}.`;
  }
  if (status === "under-way" || left === task.leftHours || (status === "done" && left === 0))
    return undefined;
  return status === "done"
    ? "A task that is done has no hours left. Clear them, or choose under way."
    : "A task that is still to do has its estimate; hours left are for one under way. Clear them, or choose under way.";
}

function findCrewFault(
  company: Company,
  task: Task,
  doneBy: string | null,
  status: Task["status"],
): string | undefined {
  if (doneBy === null || doneBy === task.doneBy) return undefined;
  if (task.trade === null) return "A wait has no crew: nobody works on it. Choose no crew.";
  if (status === "to-do") return "Nobody has begun a task that is still to do. Choose no crew, or under way.";
  const crew = company.crews.find((candidate) => candidate.id === doneBy);
  const { trade } = task;
  if (crew === undefined || Object.hasOwn(crew.trades, trade)) return undefined;
  const name = company.trades.find((candidate) => candidate.id === trade)?.name.en ?? trade;
  return status === "under-way"
    ? `${crew.name} does not do this trade (${name}). Choose another crew.`
    : undefined;
}

/** Why a time that has been typed cannot be, because it is still to come. */
function findComing(
  text: string | null,
  stood: string | null,
  zone: string,
  now: Minute,
  cannot: string,
): string | undefined {
  const minute = text === null || text === stood ? undefined : parseInstant(text, zone);
  if (minute === undefined || minute <= now) return undefined;
  return `${cannot} on ${dayAndClock(minute, zone, "en")}, which is still to come.`;
}

/** A time that was not changed stays as it was written, with or without its offset. */
function keepWriting(typed: string | null, stood: string | null, zone: string): string | null {
  if (typed === null || stood === null) return typed;
  return parseInstant(typed, zone) === parseInstant(stood, zone) ? stood : typed;
}

function spokenTime(text: string | null, zone: string): string {
  const minute = text === null ? undefined : parseInstant(text, zone);
  return minute === undefined ? (text ?? "") : dayAndClock(minute, zone, "en");
}
