/**
 * More work on a task than was estimated: some labor-hours on top, or half of the estimate still to do. What has begun by
 * the plan is under way from then on, because whoever reports it stands in the middle of it.
 */
import { taskTitle } from "../../board/board-tags.js";
import type { Fault } from "../../domain/company-file.js";
import type { PartKey } from "../../domain/company-parts.js";
import { MAX_LABOR_HOURS, zoneOfJob, type Job, type Task } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { toWallText } from "../../domain/wall-text.js";
import type { Minute } from "../../domain/time.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { listFaults, refuse, refuseFields } from "./change-refusals.js";
import { editFields, editInJob } from "./source-edit.js";

/** What the plan says of a task that it has begun by now, whether anybody has said so yet or not. */
export interface BegunByPlan {
  readonly crew: string;
  readonly startedAt: Minute;
  /** Labor-hours that the plan has left for it. */
  readonly leftHours: number;
}

export interface HoursAdded extends ChangeBase {
  readonly kind: "hours-added";
  readonly job: string;
  readonly task: string;
  /** Labor-hours on top of what was known, or half of the estimate still to do. */
  readonly how: { readonly kind: "more"; readonly hours: number } | { readonly kind: "half-left" };
  /** Null where the plan has not begun it. */
  readonly begun: BegunByPlan | null;
}

export const hoursAddedRule: ChangeRule<HoursAdded> = {
  target: ({ job, task }): PartKey => `task/${job}/${task}`,
  apply: ({ source, company, nowMinute }, change) => {
    const job = company.jobs.find(({ id }) => id === change.job);
    const task = job?.tasks.find(({ id }) => id === change.task);
    if (job === undefined || task === undefined) {
      return refuse("no-such-task", `There is no task "${change.task}" at this house any more.`);
    }
    const faults = listHoursFaults(job, task, change);
    if (faults.length > 0) return refuseFields(faults);
    const left = findLeft(task, change);
    const begins = task.status === "to-do" && change.begun !== null;
    const edit = {
      ...(left === null ? { laborHours: toLaborHours(task, change) } : { leftHours: left }),
      ...(begins && {
        status: "under-way",
        doneBy: change.begun.crew,
        startedAt: toWallText(Math.min(change.begun.startedAt, nowMinute), zoneOfJob(company, job)),
      }),
    };
    return ok(editInJob(source, job.id, "tasks", task.id, (body) => editFields(body, edit)));
  },
  say: (company, change) => {
    const job = company.jobs.find(({ id }) => id === change.job);
    const task = job?.tasks.find(({ id }) => id === change.task);
    if (job === undefined || task === undefined) return `More hours on task ${change.task}.`;
    const left = findLeft(task, change);
    const what =
      change.how.kind === "half-left"
        ? `half of it is still to do, ${say(left ?? 0)}`
        : left === null
          ? `${say(change.how.hours)} more, ${say(toLaborHours(task, change))} in all`
          : `${say(change.how.hours)} more, ${say(left)} left`;
    return `${taskTitle(task.title, task.area)} at ${job.name}: ${what}.`;
  },
};

/** Labor-hours left of a task under way; null where it has not begun and its estimate grows. */
function findLeft(task: Task, { how, begun }: HoursAdded): number | null {
  const estimate = task.laborHours ?? 0;
  if (how.kind === "half-left") return round(estimate / 2);
  if (task.status !== "under-way" && begun === null) return null;
  return round((begun?.leftHours ?? task.leftHours ?? estimate) + how.hours);
}

function toLaborHours(task: Task, { how }: HoursAdded): number {
  return round((task.laborHours ?? 0) + (how.kind === "more" ? how.hours : 0));
}

function listHoursFaults(job: Job, task: Task, change: HoursAdded): readonly Fault[] {
  const { how, begun } = change;
  const name = `${taskTitle(task.title, task.area)} at ${job.name}`;
  return listFaults([
    [
      "task",
      task.status === "done"
        ? `${name} is finished, so it cannot need more hours. If damage was found there, add a task.`
        : task.trade === null
          ? `${name} is a wait: nobody works on it. If it takes longer, move what it waits for.`
          : how.kind === "half-left" && task.status === "to-do" && begun === null
            ? `${name} has not begun, so half of it cannot be left. Say how many hours it needs on top.`
            : undefined,
    ],
    ["hours", how.kind === "more" ? findHoursFault(task, how.hours, change) : undefined],
  ]);
}

function findHoursFault(task: Task, hours: number, change: HoursAdded): string | undefined {
  if (!Number.isFinite(hours) || hours <= 0)
    return "Write how many labor-hours come on top, such as 6 or 4.5.";
  const inAll = findLeft(task, change) ?? toLaborHours(task, change);
  if (inAll <= MAX_LABOR_HOURS) return undefined;
  return (
    `With ${hours.toLocaleString("en-US")} hours more the task would have ${inAll.toLocaleString("en-US")}; ` +
    `${MAX_LABOR_HOURS.toLocaleString("en-US")} are the most that one task can have. Look at the number.`
  );
}

/** Hundredths of an hour: below a minute of anybody's work. */
function round(hours: number): number {
  return Math.round(hours * 100) / 100;
}

function say(hours: number): string {
  return `${hours.toLocaleString("en-US")} labor-hour${hours === 1 ? "" : "s"}`;
}
