/**
 * Work that nobody knew of, such as rot found behind the old cladding: a new task at its place in the order of a house.
 * After a task: whatever followed that one and has not begun now follows the new one too. Before a task: the new one
 * follows what that one followed, and that one follows it.
 */
import { taskTitle } from "../../board/board-tags.js";
import type { Company, Job, Task } from "../../domain/company-schema.js";
import { MAX_LABOR_HOURS } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { listFaults, refuse, refuseFields } from "./change-refusals.js";
import { editEntry, editFields, entriesIn, hasId, type Body } from "./source-edit.js";

export interface TaskAdded extends ChangeBase {
  readonly kind: "task-added";
  readonly job: string;
  /** The task beside which it comes in. */
  readonly beside: string;
  readonly place: "before" | "after";
  readonly trade: string;
  readonly laborHours: number;
}

export const taskAddedRule: ChangeRule<TaskAdded> = {
  target: () => undefined,
  apply: ({ source, company }, change) => {
    const job = company.jobs.find(({ id }) => id === change.job);
    const beside = job?.tasks.find(({ id }) => id === change.beside);
    if (job === undefined || beside === undefined) {
      return refuse("no-such-task", `There is no task "${change.beside}" at this house any more.`);
    }
    const { laborHours: hours, place } = change;
    const faults = listFaults([
      [
        "hours",
        !Number.isFinite(hours) || hours <= 0
          ? "Write how many labor-hours the new work needs, such as 6 or 4.5."
          : hours > MAX_LABOR_HOURS
            ? `${hours.toLocaleString("en-US")} labor-hours are more than one task can have, which is ${MAX_LABOR_HOURS.toLocaleString("en-US")}.`
            : undefined,
      ],
      [
        "trade",
        company.trades.some(({ id }) => id === change.trade)
          ? undefined
          : `There is no trade "${change.trade}" in this company. Choose one of the list.`,
      ],
      [
        "place",
        place === "before" && beside.status !== "to-do"
          ? `${taskTitle(beside.title, beside.area)} at ${job.name} has begun, so nothing can come before it. Choose a place after it.`
          : undefined,
      ],
    ]);
    if (faults.length > 0) return refuseFields(faults);
    return ok(editEntry(source, "jobs", job.id, (body) => addTask(body, job, beside, company, change)));
  },
  say: (company, change) => {
    const job = company.jobs.find(({ id }) => id === change.job);
    const beside = job?.tasks.find(({ id }) => id === change.beside);
    const where = beside === undefined ? change.beside : taskTitle(beside.title, beside.area);
    const hours = `${change.laborHours.toLocaleString("en-US")} labor-hour${change.laborHours === 1 ? "" : "s"}`;
    return `Task added at ${job?.name ?? change.job}: ${titleOf(company, change)}, ${hours}, ${change.place} ${where}.`;
  },
};

/** "Sheathing, found on site". */
function titleOf(company: Company, { trade }: TaskAdded): string {
  return `${company.trades.find(({ id }) => id === trade)?.name.en ?? trade}, found on site`;
}

function addTask(body: Body, job: Job, beside: Task, company: Company, change: TaskAdded): Body {
  const id = makeTaskId(job);
  const { place, trade, laborHours } = change;
  const tasks = entriesIn(body["tasks"]);
  const besideBody = tasks.find((task) => hasId(task, beside.id));
  const after = place === "after" ? [{ task: beside.id }] : entriesIn(besideBody?.["after"]);
  const added = {
    id,
    trade,
    title: titleOf(company, change),
    ...(beside.area !== null && { area: beside.area }),
    laborHours,
    ...(after.length > 0 && { after }),
  };
  const follow = (task: Body, links: readonly unknown[]): Body => editFields(task, { after: links });
  return {
    ...body,
    tasks: tasks.flatMap((task): readonly unknown[] => {
      if (hasId(task, beside.id)) {
        return place === "after" ? [task, added] : [added, follow(task, [{ task: id }])];
      }
      const known = job.tasks.find((one) => hasId(task, one.id));
      const mustWait =
        place === "after" &&
        known?.status === "to-do" &&
        known.after.some(({ task: before }) => before === beside.id);
      return mustWait && isBody(task) ? [follow(task, [...entriesIn(task["after"]), { task: id }])] : [task];
    }),
  };
}

function isBody(task: unknown): task is Body {
  return typeof task === "object" && task !== null;
}

/** `found-` and a number that no task of the house has. */
function makeTaskId(job: Job): string {
  const numbers = job.tasks.map(({ id }) => Number(/^found-(\d{1,9})$/.exec(id)?.[1] ?? 0));
  return `found-${Math.max(0, ...numbers) + 1}`;
}
