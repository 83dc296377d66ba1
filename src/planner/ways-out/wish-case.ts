/** What the kinds of wishes look up and say alike. */
import { zoneOfJob, type Company, type Crew, type Job, type Task } from "../../domain/company-schema.js";
import type { Plan, PlanTask } from "../../domain/plan-format.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { civilDateAt, formatDate, parseInstant, type CivilDate, type Minute } from "../../domain/time.js";
import { listChains } from "../compile/chains.js";
import { boundCrew, needsCrew } from "../compile/staffing.js";
import type { CompanyEdit } from "./company-edits.js";

export interface FoundTask {
  readonly job: Job;
  readonly task: Task;
}

/** An open task that a crew works, or why there is none to wish for. */
export function findWork(company: Company, jobId: string, taskId: string): Result<FoundTask, string> {
  const job = company.jobs.find(({ id }) => id === jobId);
  const task = job?.tasks.find(({ id }) => id === taskId);
  if (!job || !task) return fail(`There is no task "${taskId}" at a house "${jobId}".`);
  if (task.status === "done") return fail(`${say({ job, task })} is done.`);
  if (!needsCrew(task)) return fail(`${say({ job, task })} takes no crew: it ends by itself.`);
  return ok({ job, task });
}

/** `"Side the front" at 14 Spruce Lane`. */
export function say({ job, task }: FoundTask): string {
  return `"${task.title}" at ${job.name}`;
}

export function findCrew(company: Company, id: string): Result<Crew, string> {
  const crew = company.crews.find((candidate) => candidate.id === id);
  return crew ? ok(crew) : fail(`There is no crew "${id}".`);
}

export function sayDate(date: CivilDate): string {
  return formatDate(date, "cccc d LLLL", "en");
}

/** The open tasks with which a task makes one piece of open wall; the task alone where it belongs to none. */
export function listChainOf({ job, task }: FoundTask): readonly Task[] {
  const chain = listChains(job).chains.find(({ tasks }) => tasks.includes(task));
  return chain ? chain.tasks.filter((one) => one.status !== "done") : [task];
}

/**
 * Why a crew may not work a task; undefined where it may. With no open nights a whole piece of open wall is worked by one
 * crew. A crew that is only named for the task gives way to a wish.
 */
export function whyNotBy(company: Company, found: FoundTask, crew: Crew): string | undefined {
  const oneCrew = company.policy.openNights === 0;
  for (const task of oneCrew ? listChainOf(found) : [found.task]) {
    const where = task === found.task ? "" : `, which belongs to the same open wall as ${say(found)}`;
    const one = { job: found.job, task };
    if (task.status === "under-way" && boundCrew(task) !== crew.id) {
      const keeper = company.crews.find(({ id }) => id === boundCrew(task))?.name ?? "Another crew";
      return `${keeper} has begun ${say(one)}${where}: what is begun stays with its crew.`;
    }
    if (!needsCrew(task) || task.trade === null) continue;
    if (crew.trades[task.trade] === undefined) {
      const trade = company.trades.find(({ id }) => id === task.trade)?.name.en ?? task.trade;
      return `${crew.name} does not do ${trade}, the trade of ${say(one)}${where}.`;
    }
    if (crew.size < task.minCrew) {
      return `${say(one)} needs ${task.minCrew} people${where}; ${crew.name} has ${crew.size}.`;
    }
  }
  return undefined;
}

/** Names the crew for a task; for all of its open wall where one crew must work that. */
export function nameCrew(company: Company, found: FoundTask, crew: string): CompanyEdit[] {
  const tasks = company.policy.openNights === 0 ? listChainOf(found) : [found.task];
  return tasks
    .filter((task) => task.status === "to-do" && needsCrew(task))
    .map((task) => ({ kind: "name-crew", job: found.job.id, task: task.id, crew }));
}

/** A person says so: what is published of these tasks may move. */
export function release(company: Company, job: Job, tasks: readonly Task[]): CompanyEdit[] {
  const isHeld = (task: Task): boolean =>
    company.published?.some(
      (block) => block.job === job.id && block.task === task.id && block.kind === "work" && !block.released,
    ) === true;
  return tasks.filter(isHeld).map((task) => ({ kind: "release", job: job.id, task: task.id }));
}

/** The order with other entries for some tasks. */
export function reorderPlan(order: Plan, change: (entry: PlanTask) => PlanTask): Plan {
  return { ...order, tasks: order.tasks.map(change) };
}

/** The minute of a time in the order to hold. */
export function minuteOf(company: Company, iso: string): Minute {
  return parseInstant(iso, company.company.timeZone) ?? 0;
}

/** The date of a time at a house. */
export function dateAt(company: Company, job: Job, minute: Minute): CivilDate {
  return civilDateAt(minute, zoneOfJob(company, job));
}
