/**
 * A task that a dispatcher has put to another crew, another day or another place in its day. What it writes is her wish:
 * the crew is named, and the task does not start before that day. The order of the day is in the plan that is kept with
 * the change.
 */
import { taskTitle } from "../../board/board-tags.js";
import { shortDate } from "../../board/spoken-time.js";
import type { PartKey } from "../../domain/company-parts.js";
import type { Company } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { civilDate, parseCivilDate, type CivilDate } from "../../domain/time.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { refuse, refuseFields } from "./change-refusals.js";
import { editFields, editInJob } from "./source-edit.js";

export interface TaskMoved extends ChangeBase {
  readonly kind: "task-moved";
  readonly job: string;
  readonly task: string;
  readonly crew: string;
  /** YYYY-MM-DD: the day on which the crew begins it. */
  readonly date: string;
  /** Where it was in the plan that stood; null where it was in none. */
  readonly from: { readonly crew: string; readonly date: CivilDate } | null;
}

export const taskMovedRule: ChangeRule<TaskMoved> = {
  target: ({ job, task }): PartKey => `task/${job}/${task}`,
  apply: ({ source, company }, { job: jobId, task: id, crew, date }) => {
    const task = company.jobs.find((job) => job.id === jobId)?.tasks.find((one) => one.id === id);
    if (task === undefined) {
      return refuse("no-such-task", `There is no task "${id}" at this house any more.`);
    }
    if (!company.crews.some((one) => one.id === crew)) {
      return refuse("no-such-crew", `There is no crew "${crew}" any more.`);
    }
    if (parseCivilDate(date) === undefined) {
      return refuseFields([{ path: "date", sentence: "This is no date. Choose a day." }]);
    }
    if (task.status !== "to-do") {
      return refuse("not-to-do", `"${task.title}" has been begun, so it stays where it is.`);
    }
    return ok(editInJob(source, jobId, "tasks", id, (body) => editFields(body, { crew, notBefore: date })));
  },
  say: (company, { job: jobId, task: id, crew, date, from }) => {
    const job = company.jobs.find((one) => one.id === jobId);
    const task = job?.tasks.find((one) => one.id === id);
    const title = task === undefined ? id : taskTitle(task.title, task.area);
    const was = from === null ? "" : ` from ${placeOf(company, from.crew, from.date)}`;
    return `${title} at ${job?.name ?? jobId} moved${was} to ${placeOf(company, crew, date)}.`;
  },
};

/** "Alder, Tue 8 Dec". */
function placeOf(company: Company, crewId: string, date: string): string {
  const name = company.crews.find(({ id }) => id === crewId)?.name ?? crewId;
  return `${name}, ${parseCivilDate(date) === undefined ? date : shortDate(civilDate(date), "en")}`;
}
