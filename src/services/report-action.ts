/**
 * A report from site taken in: the report, what it changes and the row on record in one transaction, and exactly once,
 * however often it is sent. Whatever it meets, it is kept.
 */
import { buildReading } from "../board/reading.js";
import { parseCompany } from "../domain/company-file.js";
import { isSameJson } from "../domain/json-equality.js";
import type { Actor } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import { PROGRESS_KINDS, type ReportBody, type SiteReport } from "../domain/site-report.js";
import { civilDateAt, minuteOfDate, type CivilDate, type Minute } from "../domain/time.js";
import type { Queries } from "../store/database.js";
import { insertPlan } from "../store/plan-store.js";
import { listTouching, type RecordedChange } from "../store/record-store.js";
import {
  findReport,
  insertReport,
  listReportsOfTask,
  type NewSiteReport,
} from "../store/site-report-store.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { refuse } from "./changes/change-refusals.js";
import { applyReport, sayReport, SITE_REPORT, type SaidReport } from "./changes/site-report.js";
import { EMPTY, type DeskDoor } from "./desk-door.js";
import { toSameKept } from "./desk-plans.js";

/** A report as it is sent. */
export interface ReportInput {
  /** A UUID made where it was said. */
  readonly key: string;
  readonly crew: string;
  /** The day of the sheet that it was said on. */
  readonly date: CivilDate;
  readonly at: { readonly job: string; readonly task: string } | null;
  readonly body: ReportBody;
  /** By the office's clock, whatever the phone's says; null where it is not known. */
  readonly saidMinute: Minute | null;
  /** The version of the company that the crew's page was made of; null where it is not known. */
  readonly seen: number | null;
}

export type ReportTaken = "taken" | "taken-before";

/** That something was said longer ago than this is not believed. */
export const MOST_MINUTES_AGO = 31 * 24 * 60;

/** Taken, or taken before; refused only where there is no such crew, or the key belongs to another report. */
export async function takeReport(
  door: DeskDoor,
  input: ReportInput,
  by: Actor,
  patienceMs?: number,
): Promise<Result<ReportTaken, ChangeFailure>> {
  let before: SiteReport | undefined;
  const written = await door.write(async (stored, queries) => {
    before = await findReport(queries, input.key);
    if (before !== undefined) return refuse("taken-before", "This report has come already.");
    const standing = door.standing();
    if (stored.source === undefined || standing === undefined) return fail(EMPTY);
    const parsed =
      stored.version === standing.stored.version ? ok(standing.company) : parseCompany(stored.source);
    // What is stored has no fault: the desk itself would stop there.
    if (!parsed.ok) return fail({ kind: "faults", faults: parsed.error });
    const company = parsed.value;
    const crew = company.crews.find(({ id }) => id === input.crew);
    if (crew === undefined) return refuse("no-such-crew", `There is no crew "${input.crew}" any more.`);
    const nowMinute = door.clock();
    const { date, at, body } = input;
    const said: SaidReport = { crew, date, at, body, saidMinute: toSaidMinute(input.saidMinute, nowMinute) };
    const reading = buildReading(company, standing.plan.plan);
    const [saidLater, changedSince] = await Promise.all([
      findSaidLater(queries, said),
      findChangedSince(queries, input),
    ]);
    const document = { source: stored.source, company, nowMinute };
    const { source, applied, meets } = applyReport(document, said, { reading, saidLater, changedSince });
    const report: NewSiteReport = {
      key: input.key,
      crewId: crew.id,
      date,
      jobId: at?.job ?? null,
      taskId: at?.task ?? null,
      body,
      saidAt: toDate(said.saidMinute),
      receivedAt: toDate(nowMinute),
      saidBy: by.personName,
      applied,
      meets: meets.length === 0 ? null : meets.map(({ sentence }) => sentence).join(" "),
      met: [...new Set(meets.map(({ met }) => met))],
    };
    const entry = door.entry(SITE_REPORT, sayReport(company, said), by, "");
    // Where nothing is changed, the plan stays the one that it is: there is nothing to plan again for.
    const isAsItWas = source === stored.source && stored.version === standing.stored.version;
    const still = isAsItWas && standing.plan.date === civilDateAt(nowMinute, company.company.timeZone);
    const also = async (within: Queries, version: number): Promise<void> => {
      await insertReport(within, version, report);
      if (still) await insertPlan(within, { ...toSameKept(company, standing.plan), companyVersion: version });
    };
    return ok({ source, entry, also });
  }, patienceMs);
  if (written.ok) return ok("taken");
  if (before === undefined) return written;
  return isSameReport(before, input)
    ? ok("taken-before")
    : refuse(OTHER_UNDER_KEY, "This key has been used.");
}

/** The kind of refusal where the key is that of a report which says something else. */
export const OTHER_UNDER_KEY = "other-under-key";

function isSameReport(report: SiteReport, { crew, date, at, body }: ReportInput): boolean {
  return (
    report.crewId === crew &&
    report.date === date &&
    report.jobId === (at?.job ?? null) &&
    report.taskId === (at?.task ?? null) &&
    isSameJson(report.body, body)
  );
}

/** Never later than it came. */
function toSaidMinute(said: Minute | null, now: Minute): Minute {
  return said === null || said > now || said < now - MOST_MINUTES_AGO ? now : said;
}

async function findSaidLater(
  queries: Queries,
  { at, body, saidMinute }: SaidReport,
): Promise<{ readonly body: ReportBody; readonly saidMinute: Minute } | undefined> {
  if (at === null || !PROGRESS_KINDS.has(body.kind)) return undefined;
  const reports = await listReportsOfTask(queries, at.job, at.task);
  const last = reports.findLast((report) => report.applied && PROGRESS_KINDS.has(report.body.kind));
  if (last === undefined) return undefined;
  const lastMinute = minuteOfDate(last.saidAt);
  // When a task was begun may come to be known after it is known to be done.
  if (lastMinute <= saidMinute || (body.kind === "start" && last.body.kind === "done")) return undefined;
  return { body: last.body, saidMinute: lastMinute };
}

async function findChangedSince(
  queries: Queries,
  { at, seen }: ReportInput,
): Promise<RecordedChange | undefined> {
  if (at === null || seen === null) return undefined;
  const since = await listTouching(queries, [`task/${at.job}/${at.task}`], seen);
  return since.findLast(
    ({ kind, undoneBy, undoes }) => kind !== SITE_REPORT && undoneBy === null && undoes === null,
  );
}

const toDate = (minute: Minute): Date => new Date(minute * 60_000);
