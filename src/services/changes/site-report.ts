/**
 * What a report from site makes of a company: the changes that it amounts to, by the rules that everybody else's changes
 * go by, and what it met where the plan had changed. Pure. Facts win: what a crew says it has done is believed whoever was
 * to do it. What cannot be taken in leaves the company as it is, and says why; the report itself is never refused.
 */
import { findBegunByPlan } from "../../board/begun-by-plan.js";
import { taskTitle } from "../../board/board-tags.js";
import type { Reading } from "../../board/reading.js";
import { saidWords } from "../../board/report-said.js";
import { dayAndClock, shortDate } from "../../board/spoken-time.js";
import { zoneOfJob, type Company, type Crew, type Job, type Task } from "../../domain/company-schema.js";
import type { Source } from "../../domain/company-parts.js";
import { isAboutAnotherDay, PROGRESS_KINDS, type Met, type ReportBody } from "../../domain/site-report.js";
import {
  addDays,
  civilDateAt,
  daysBetween,
  parseInstant,
  type CivilDate,
  type Minute,
} from "../../domain/time.js";
import { toWallText } from "../../domain/wall-text.js";
import type { HoldInput } from "../desk.js";
import { applyChange } from "./apply-change.js";
import { NOTHING_DIFFERS } from "./change-refusals.js";
import type { CompanyChange, CompanyDocument, NotDone } from "./company-change.js";
import type { ProgressInput } from "./task-progress.js";

/** A report as it has come. */
export interface SaidReport {
  readonly crew: Crew;
  /** The day that it is about. */
  readonly date: CivilDate;
  /** Null where it is about the day. */
  readonly at: { readonly job: string; readonly task: string } | null;
  readonly body: ReportBody;
  readonly saidMinute: Minute;
}

/** What else is known of its task. */
export interface ReportContext {
  /** The plan that stands; it may be of the company shortly before. */
  readonly reading: Reading;
  /** What was said later of how far the task is, and has come already. */
  readonly saidLater: { readonly body: ReportBody; readonly saidMinute: Minute } | undefined;
  /** What others have changed of the task since the crew's page was made. */
  readonly changedSince: { readonly personName: string; readonly sentence: string } | undefined;
}

export interface ReportEffect {
  readonly source: Source;
  /** Whether the forecast has what was said; also where it had it before. */
  readonly applied: boolean;
  readonly meets: readonly Meeting[];
}

/** Something that a report has met. */
export interface Meeting {
  readonly met: Met;
  /** For the office. */
  readonly sentence: string;
}

/** What a report comes to, before it is tried. */
interface Outcome {
  readonly changes: readonly CompanyChange[];
  readonly meets: readonly Meeting[];
  /** The forecast has nothing of it, for the reason that `meets` gives or because it is for the dispatcher. */
  readonly isOnlyTold?: boolean;
}

export function applyReport(
  document: CompanyDocument,
  said: SaidReport,
  context: ReportContext,
): ReportEffect {
  const { changes, meets, isOnlyTold = false } = decide(document, said, context);
  if (isOnlyTold) return { source: document.source, applied: false, meets };
  let { source, company } = document;
  for (const change of changes) {
    const applied = applyChange({ ...document, source, company }, change);
    if (applied.ok) ({ source, company } = applied.value);
    else if (applied.error !== NOTHING_DIFFERS.error) {
      return { source: document.source, applied: false, meets: [...meets, sayNotDone(applied.error)] };
    }
  }
  return { source, applied: true, meets };
}

/** For the record: "Alder, Side the front at 12 Harbor Road: Done."; with the day that it is about where that is another. */
export function sayReport(company: Company, { crew, date, at, body, saidMinute }: SaidReport): string {
  const note = body.note === "" ? "" : ` "${body.note}"`;
  if (at === null) return `${crew.name}, ${shortDate(date, "en")}: ${saidWords(body, "en")}.${note}`;
  const job = company.jobs.find(({ id }) => id === at.job);
  const task = job?.tasks.find(({ id }) => id === at.task);
  const title = task === undefined ? `task ${at.task}` : taskTitle(task.title, task.area);
  const saidOn = civilDateAt(saidMinute, company.company.timeZone);
  const day = isAboutAnotherDay(body.kind, date, saidOn) ? `${shortDate(date, "en")}, ` : "";
  return `${crew.name}, ${day}${title} at ${job?.name ?? at.job}: ${saidWords(body, "en")}.${note}`;
}

function sayNotDone(error: NotDone): Meeting {
  const sentence =
    error.kind === "faults" ? error.faults.map((fault) => fault.sentence).join(" ") : error.refusal.sentence;
  return { met: "not-possible", sentence };
}

interface TaskReport {
  readonly company: Company;
  readonly job: Job;
  readonly task: Task;
  readonly name: string;
  readonly zone: string;
  readonly crew: Crew;
  readonly date: CivilDate;
  readonly saidMinute: Minute;
  readonly reading: Reading;
  readonly nowMinute: Minute;
}

function decide(document: CompanyDocument, said: SaidReport, context: ReportContext): Outcome {
  const { company, nowMinute } = document;
  const { at, body, crew, saidMinute } = said;
  if (at === null) return decideDay(document, said, context.reading);
  const job = company.jobs.find(({ id }) => id === at.job);
  const task = job?.tasks.find(({ id }) => id === at.task);
  if (job === undefined) {
    return onlyTold({ met: "not-there", sentence: `The house "${at.job}" is not in the company any more.` });
  }
  if (task === undefined) {
    return onlyTold({ met: "not-there", sentence: `${job.name} has no task "${at.task}" any more.` });
  }
  const name = `${taskTitle(task.title, task.area)} at ${job.name}`;
  const zone = zoneOfJob(company, job);
  const { date } = said;
  const of = { company, job, task, name, zone, crew, date, saidMinute, reading: context.reading, nowMinute };
  const { saidLater, changedSince } = context;
  const met = [...listElsewhere(of), ...(changedSince === undefined ? [] : [sayChanged(changedSince)])];
  if (saidLater !== undefined && PROGRESS_KINDS.has(body.kind)) {
    const later = `${saidWords(saidLater.body, "en")}, ${dayAndClock(saidLater.saidMinute, zone, "en")}`;
    const sentence = `What was said after it stands already (${later}).`;
    return onlyTold(...met, { met: "said-later", sentence });
  }
  const outcome = decideTask(of, body);
  return { ...outcome, meets: [...met, ...outcome.meets] };
}

/** Whom the task is with, where that is another crew. */
function listElsewhere({ company, job, task, name, zone, crew, reading }: TaskReport): readonly Meeting[] {
  const nameOf = (id: string): string => company.crews.find((other) => other.id === id)?.name ?? id;
  if (task.status === "under-way" && task.doneBy !== null && task.doneBy !== crew.id) {
    return [{ met: "other-crew", sentence: `${name} was under way with ${nameOf(task.doneBy)}.` }];
  }
  const planned = task.status === "done" ? undefined : reading.planned(job.id, task.id);
  if (planned?.crew == null || planned.crew.id === crew.id) return [];
  const when = dayAndClock(planned.start, zone, "en");
  return [{ met: "other-crew", sentence: `The forecast had ${name} with ${planned.crew.name}, ${when}.` }];
}

function sayChanged(by: { readonly personName: string; readonly sentence: string }): Meeting {
  const sentence = `${by.personName} had changed it since the crew's page was made: ${by.sentence}`;
  return { met: "changed", sentence };
}

const progress = ({ job, task }: TaskReport, input: ProgressInput): CompanyChange => ({
  kind: "task-progress",
  job: job.id,
  task: task.id,
  input,
});

function decideTask(of: TaskReport, body: ReportBody): Outcome {
  const { job, task, crew } = of;
  switch (body.kind) {
    case "start":
      return task.status === "done" ? startOfDone(of) : changing(progress(of, underWay(of, task.leftHours)));
    case "done":
      return task.status === "done" ? doneBefore(of) : changing(progress(of, finished(of)));
    case "hours-left":
      return task.status === "done" && !isSaidAfterFinish(of)
        ? onlyTold(sayDone(of))
        : changing(progress(of, underWay(of, body.hours)), task.status === "done" ? [sayDone(of)] : []);
    case "stuck":
      return stuck(of, body);
    case "damage": {
      if (body.hours === null) return { changes: [], meets: [], isOnlyTold: true };
      const begun = findBegunByPlan(of.reading, job.id, task.id, of.nowMinute);
      return changing({
        kind: "hours-added",
        job: job.id,
        task: task.id,
        how: { kind: "more", hours: body.hours },
        begun: task.status === "under-way" || begun?.crew === crew.id ? begun : null,
      });
    }
    case "stretch":
    case "short-handed":
      return { changes: [], meets: [], isOnlyTold: true };
  }
}

/** Under way with the crew that says so, from when it was begun: as it stands, or when the crew said so. */
function underWay({ task, zone, crew, saidMinute, reading, job }: TaskReport, left: number | null) {
  const stood = task.startedAt === null ? undefined : parseInstant(task.startedAt, zone);
  const planned = findBegunByPlan(reading, job.id, task.id, saidMinute);
  // Hours are said in the middle of the work; a start is said when it begins.
  const begun = left !== null && planned?.crew === crew.id ? planned.startedAt : saidMinute;
  const startedAt = Math.min(stood ?? begun, saidMinute);
  return {
    status: "under-way",
    leftHours: left,
    doneBy: crew.id,
    startedAt: startedAt === stood ? task.startedAt : toWallText(startedAt, zone),
    finishedAt: null,
  } as const;
}

function finished({ task, zone, crew, saidMinute }: TaskReport): ProgressInput {
  const stood = task.startedAt === null ? undefined : parseInstant(task.startedAt, zone);
  const finishedAt = toWallText(saidMinute, zone);
  const isBackwards = stood !== undefined && stood > saidMinute;
  return {
    status: "done",
    leftHours: null,
    doneBy: crew.id,
    startedAt: isBackwards ? finishedAt : task.startedAt,
    finishedAt,
  };
}

/** It may only now come to be known when the task was begun. */
function startOfDone(of: TaskReport): Outcome {
  const { task, zone, saidMinute } = of;
  if (task.startedAt !== null || isSaidAfterFinish(of) || task.finishedAt === null)
    return onlyTold(sayDone(of));
  const { status, doneBy, finishedAt } = task;
  const startedAt = toWallText(saidMinute, zone);
  return changing(progress(of, { status, leftHours: null, doneBy, startedAt, finishedAt }));
}

/** The same crew may say it twice. */
function doneBefore(of: TaskReport): Outcome {
  const isOwn = of.task.doneBy === of.crew.id;
  return { changes: [], meets: isOwn ? [] : [sayDone(of)] };
}

function isSaidAfterFinish({ task, zone, saidMinute }: TaskReport): boolean {
  const finish = task.finishedAt === null ? undefined : parseInstant(task.finishedAt, zone);
  return finish !== undefined && saidMinute > finish;
}

function sayDone({ company, task, name, zone }: TaskReport): Meeting {
  const crew = company.crews.find(({ id }) => id === task.doneBy)?.name;
  const finish = task.finishedAt === null ? undefined : parseInstant(task.finishedAt, zone);
  const by = crew === undefined ? "" : ` by ${crew}`;
  const when = finish === undefined ? "" : `, ${dayAndClock(finish, zone, "en")}`;
  return { met: "done-already", sentence: `${name} was done already${by}${when}.` };
}

/** Further ahead much will have changed. */
const MOST_DAYS_AHEAD = 14;

/** Its trade waits at that house until the midnight that ends the day it is about, or that on which it was said. */
function stuck(of: TaskReport, body: Extract<ReportBody, { kind: "stuck" }>): Outcome {
  const { company, job, task, name, zone, date, saidMinute, nowMinute } = of;
  if (task.status === "done") return onlyTold(sayDone(of));
  if (task.trade === null) {
    return onlyTold({ met: "not-possible", sentence: `${name} is a wait: no crew works on it.` });
  }
  const saidOn = civilDateAt(saidMinute, zone);
  if (daysBetween(saidOn, date) > MOST_DAYS_AHEAD) {
    const sentence = `It is about ${shortDate(date, "en")}, more than two weeks ahead: nothing is held.`;
    return onlyTold({ met: "too-far-ahead", sentence });
  }
  const to = `${addDays(date > saidOn ? date : saidOn, 1)}T00:00`;
  const end = parseInstant(to, zone) ?? saidMinute;
  if (end <= nowMinute) {
    const sentence = `It was said on ${dayAndClock(saidMinute, zone, "en")}, and that day is over: nothing is held.`;
    return onlyTold({ met: "day-over", sentence });
  }
  const { trade } = task;
  const stands = company.holds.some(({ from, to: until, trades, jobs }) => {
    const [start, stop] = [parseInstant(from, zone), parseInstant(until, zone)];
    const isMeant =
      Array.isArray(trades) && trades.includes(trade) && Array.isArray(jobs) && jobs.includes(job.id);
    return isMeant && start !== undefined && stop !== undefined && start <= saidMinute && stop >= end;
  });
  // Held as it is, another hold would only have to be lifted twice.
  if (stands) return { changes: [], meets: [] };
  const why = `${saidWords(body, "en")}${body.note === "" ? "" : `: ${body.note}`}`.slice(0, 2000);
  const input: HoldInput = { from: toWallText(saidMinute, zone), to, trades: [trade], jobs: [job.id], why };
  return changing({ kind: "hold-added", input });
}

function decideDay({ company, nowMinute }: CompanyDocument, said: SaidReport, reading: Reading): Outcome {
  const { crew, date, body, saidMinute } = said;
  if (body.kind !== "short-handed") return { changes: [], meets: [], isOnlyTold: true };
  if (body.missing >= crew.size) {
    const sentence = `${crew.name} has ${crew.size}, so nobody is left that day: a day off is for you to enter.`;
    return onlyTold({ met: "nobody-left", sentence });
  }
  const lost = listLostHours(reading, said, body.missing);
  const changes = [...lost].flatMap(([key, hours]): CompanyChange[] => {
    const [job = "", id = ""] = key.split("/");
    const task = company.jobs.find((one) => one.id === job)?.tasks.find((one) => one.id === id);
    if (task === undefined || task.status === "done" || hours < LEAST_HOURS) return [];
    const begun = findBegunByPlan(reading, job, id, nowMinute);
    const isBegun = task.status === "under-way" || begun?.crew === crew.id;
    return [
      { kind: "hours-added", job, task: id, how: { kind: "more", hours }, begun: isBegun ? begun : null },
    ];
  });
  if (changes.length > 0) return { changes, meets: [] };
  const day = civilDateAt(saidMinute, reading.zone) === date ? "the rest of that day" : "that day";
  return onlyTold({ met: "no-work", sentence: `The forecast has no work of ${crew.name} for ${day}.` });
}

/** Below a minute of anybody's work. */
const LEAST_HOURS = 0.01;

/** What the missing would have done of what is left of that day's work, in labor-hours by `house/task`. */
function listLostHours(
  reading: Reading,
  { crew, date, saidMinute }: SaidReport,
  missing: number,
): ReadonlyMap<string, number> {
  const lost = new Map<string, number>();
  for (const { kind, job, task, start, end } of reading.dayOf(crew.id, date)) {
    if (kind !== "work" || job === null || task === null || task.trade === null) continue;
    const minutes = Math.max(0, end - Math.max(start, saidMinute));
    const key = `${job.id}/${task.id}`;
    const hours = (minutes / 60) * missing * (crew.trades[task.trade] ?? 1);
    lost.set(key, Math.round(((lost.get(key) ?? 0) + hours) * 100) / 100);
  }
  return lost;
}

const changing = (change: CompanyChange, meets: readonly Meeting[] = []): Outcome => ({
  changes: [change],
  meets,
});
const onlyTold = (...meets: readonly Meeting[]): Outcome => ({ changes: [], meets, isOnlyTold: true });

/** The kind that the record has for every report. */
export const SITE_REPORT = "site-report";
