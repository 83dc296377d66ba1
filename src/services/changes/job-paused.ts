/**
 * A house at which nothing new begins until a date: the customer is away, the permit is not there. What is under way there
 * goes on to its end, so that no wall stays open.
 */
import { shortDate } from "../../board/spoken-time.js";
import type { PartKey } from "../../domain/company-parts.js";
import { zoneOfJob, type Company, type Job, type Task } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { civilDate, civilDateAt, parseCivilDate, parseInstant } from "../../domain/time.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { findFarDate, findPastDate, listFaults, refuse, refuseFields } from "./change-refusals.js";
import { editFields, editInJob } from "./source-edit.js";

export interface JobPaused extends ChangeBase {
  readonly kind: "job-paused";
  readonly job: string;
  /** YYYY-MM-DD: the first day on which work may begin there again. */
  readonly until: string;
}

export const jobPausedRule: ChangeRule<JobPaused> = {
  target: ({ job }): PartKey => `job/${job}`,
  apply: ({ source, company, nowMinute }, { job: id, until }) => {
    const job = company.jobs.find((candidate) => candidate.id === id);
    if (job === undefined) return refuse("no-such-job", `There is no house "${id}" any more.`);
    const today = civilDateAt(nowMinute, zoneOfJob(company, job));
    const isDate = parseCivilDate(until) !== undefined;
    const paused = isDate ? listPaused(company, job, until) : [];
    const faults = listFaults([
      [
        "until",
        !isDate
          ? `"${until}" is no date. Write it as year-month-day, such as 2027-03-16.`
          : (findPastDate(until, today) ??
            findFarDate(until, today) ??
            (until === today ? "A pause until today pauses nothing. Write a later date." : undefined)),
      ],
      [
        "job",
        isDate && paused.length === 0
          ? `Nothing at ${job.name} can be paused until then: what is left there is under way, or begins later anyway.`
          : undefined,
      ],
    ]);
    if (faults.length > 0) return refuseFields(faults);
    return ok(
      paused.reduce(
        (edited, task) =>
          editInJob(edited, id, "tasks", task.id, (body) => editFields(body, { notBefore: until })),
        source,
      ),
    );
  },
  say: (company, { job: id, until }) => {
    const name = company.jobs.find((job) => job.id === id)?.name ?? id;
    const day = parseCivilDate(until) === undefined ? until : shortDate(civilDate(until), "en");
    return `${name} paused: nothing new begins there before ${day}.`;
  },
};

/** Work that has not begun and may begin before that date. */
function listPaused(company: Company, job: Job, until: string): readonly Task[] {
  const zone = zoneOfJob(company, job);
  const from = parseInstant(until, zone) ?? 0;
  return job.tasks.filter(
    ({ status, trade, notBefore }) =>
      status === "to-do" &&
      trade !== null &&
      (notBefore === null || (parseInstant(notBefore, zone) ?? 0) < from),
  );
}
