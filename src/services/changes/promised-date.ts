/** The date that a customer has been promised: moved, set for the first time, or taken back. */
import { shortDate } from "../../board/spoken-time.js";
import type { PartKey } from "../../domain/company-parts.js";
import { ok } from "../../domain/result.js";
import { civilDate, civilDateAt, parseCivilDate } from "../../domain/time.js";
import { zoneOfJob } from "../../domain/company-schema.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import {
  findFarDate,
  findPastDate,
  listFaults,
  NOTHING_DIFFERS,
  refuse,
  refuseFields,
} from "./change-refusals.js";
import { editEntry, editFields } from "./source-edit.js";

export interface PromiseMoved extends ChangeBase {
  readonly kind: "promise-moved";
  readonly job: string;
  /** YYYY-MM-DD; null where nothing is promised any more. */
  readonly promised: string | null;
}

export const promiseMovedRule: ChangeRule<PromiseMoved> = {
  target: ({ job }): PartKey => `job/${job}`,
  apply: ({ source, company, nowMinute }, { job: id, promised }) => {
    const index = company.jobs.findIndex((job) => job.id === id);
    const job = company.jobs[index];
    if (job === undefined) return refuse("no-such-job", `There is no house "${id}" any more.`);
    if (promised === job.promised) return NOTHING_DIFFERS;
    const today = civilDateAt(nowMinute, zoneOfJob(company, job));
    const sentence =
      promised === null ? undefined : (findPastDate(promised, today) ?? findFarDate(promised, today));
    const faults = listFaults([[`jobs[${index}].promised`, sentence]]);
    if (faults.length > 0) return refuseFields(faults);
    return ok(editEntry(source, "jobs", id, (body) => editFields(body, { promised: promised ?? undefined })));
  },
  say: (company, { job: id, promised }) => {
    const job = company.jobs.find((candidate) => candidate.id === id);
    const name = `Promised date of ${job?.name ?? id}`;
    const old = job?.promised ?? null;
    if (promised === null) return `${name}, ${old === null ? "none" : spoken(old)}, taken back.`;
    if (old === null) return `${name} set to ${spoken(promised)}.`;
    return `${name} moved from ${spoken(old)} to ${spoken(promised)}.`;
  },
};

function spoken(date: string): string {
  return parseCivilDate(date) === undefined ? date : shortDate(civilDate(date), "en");
}
