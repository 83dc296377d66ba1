/**
 * Reports from site as the office reads them: who said what of which work and when, what the forecast has of it, what it
 * met, what it moved, and where to go on.
 */
import { zoneOfJob, type Company } from "../domain/company-schema.js";
import { isAboutAnotherDay, type SiteReport } from "../domain/site-report.js";
import { civilDateAt, minuteOfDate, parseInstant, type CivilDate } from "../domain/time.js";
import { isAtHouse, stopsTrade } from "../weather/hold-list.js";
import { taskTitle } from "./board-tags.js";
import { saidWords } from "./report-said.js";
import type { RippleView } from "./ripple-view.js";
import { clock, dayAndClock, shortDate } from "./spoken-time.js";

/** Where to go on: a page, and what its form is filled in with. */
export interface ReportLink {
  readonly page: "slip" | "ways" | "holds" | "job";
  readonly words: string;
  /** Of a house its id and the task's. */
  readonly fields: readonly (readonly [name: string, value: string])[];
}

export interface OfficeReportView {
  readonly id: number;
  readonly key: string;
  readonly version: number;
  readonly crewId: string;
  readonly crewName: string;
  readonly date: CivilDate;
  /** Empty where it is about the day. */
  readonly jobId: string;
  readonly jobName: string;
  readonly taskId: string;
  readonly taskTitle: string;
  /** "Stuck: Material". */
  readonly said: string;
  readonly note: string;
  /** "Said Mon 7 Dec, 2:10 pm by Jo for Tue 8 Dec; came 3:30 pm". */
  readonly when: string;
  /** What the forecast has of it. */
  readonly forecast: string;
  readonly meets: string;
  readonly isOpen: boolean;
  /** Whether the mark of the office can be taken away. */
  readonly isSettled: boolean;
  /** "Settled Mon 7 Dec, 4:00 pm by Robin."; that it was taken back; empty while it is open. */
  readonly done: string;
  readonly links: readonly ReportLink[];
  /** Undefined where none is known. */
  readonly ripple: RippleView | undefined;
  /** That it is still being worked out; empty where it is not. */
  readonly rippleToCome: string;
}

/** `ripple`: of its change; undefined where there is none or it is not asked for. */
export function buildOfficeReport(
  company: Company,
  report: SiteReport,
  ripple: RippleView | "to-come" | undefined,
): OfficeReportView {
  const job = company.jobs.find(({ id }) => id === report.jobId);
  const task = job?.tasks.find(({ id }) => id === report.taskId);
  const zone = job === undefined ? company.company.timeZone : zoneOfJob(company, job);
  const isSettled = report.settledAt !== null;
  const isOpen = !isSettled && !report.isTakenBack;
  return {
    id: report.id,
    key: report.key,
    version: report.version,
    crewId: report.crewId,
    crewName: company.crews.find(({ id }) => id === report.crewId)?.name ?? report.crewId,
    date: report.date,
    jobId: job?.id ?? "",
    jobName: job?.name ?? report.jobId ?? "",
    taskId: task?.id ?? "",
    taskTitle: task === undefined ? (report.taskId ?? dayWords(report)) : taskTitle(task.title, task.area),
    said: saidWords(report.body, "en"),
    note: report.body.note,
    when: sayWhen(report, zone),
    forecast: forecastWords(company, report, zone),
    meets: report.meets ?? "",
    isOpen,
    isSettled,
    done: sayDone(report, zone),
    links: isOpen ? listLinks(report, job !== undefined && task !== undefined) : [],
    ripple: ripple === "to-come" ? undefined : ripple,
    rippleToCome: ripple === "to-come" ? "Still being worked out. Look again in a moment." : "",
  };
}

function dayWords({ date }: SiteReport): string {
  return `the day ${shortDate(date, "en")}`;
}

function sayWhen(report: SiteReport, zone: string): string {
  const [said, received] = [minuteOfDate(report.saidAt), minuteOfDate(report.receivedAt)];
  const about = isOfAnotherDay(report, zone) ? ` for ${shortDate(report.date, "en")}` : "";
  const first = `Said ${dayAndClock(said, zone, "en")} by ${report.saidBy}${about}`;
  if (said === received) return first;
  const [saidDay, receivedDay] = [dayAndClock(said, zone, "en"), dayAndClock(received, zone, "en")];
  const isSameDay = saidDay.split(",")[0] === receivedDay.split(",")[0];
  return `${first}; came ${isSameDay ? clock(received, zone, "en") : receivedDay}`;
}

/** Of a task on another day than it was said on; a report of the day names its day anyway. */
function isOfAnotherDay({ date, saidAt, jobId, body }: SiteReport, zone: string): boolean {
  return jobId !== null && isAboutAnotherDay(body.kind, date, saidOn(saidAt, zone));
}

const saidOn = (saidAt: Date, zone: string): CivilDate => civilDateAt(minuteOfDate(saidAt), zone);

function forecastWords(company: Company, report: SiteReport, zone: string): string {
  const { body, applied, isTakenBack } = report;
  if (isTakenBack) return "Taken back: the forecast does not have it any more.";
  if (body.kind === "stretch") return "The forecast stays as it is: a stretch is for you to grant.";
  if (body.kind === "damage" && body.hours === null) {
    return "The forecast stays as it is: the crew could not say how many hours it takes.";
  }
  if (!applied) return "The forecast stays as it is.";
  if (body.kind !== "stuck") return "The forecast has it.";
  const end =
    report.date > saidOn(report.saidAt, zone) ? `the end of ${shortDate(report.date, "en")}` : "midnight";
  return isHeld(company, report)
    ? `The forecast holds this work until ${end}.`
    : `The hold until ${end} that came of it has been changed or lifted since, or is over.`;
}

/** Whether a hold on the trade of what a crew is stuck with, at that house, is there and goes on behind what was said. */
function isHeld(company: Company, { jobId, taskId, saidAt }: SiteReport): boolean {
  const job = company.jobs.find(({ id }) => id === jobId);
  const task = job?.tasks.find(({ id }) => id === taskId);
  const trade = company.trades.find(({ id }) => id === task?.trade);
  if (job === undefined || trade === undefined) return false;
  return company.holds.some(
    (hold) =>
      Array.isArray(hold.jobs) &&
      isAtHouse(hold, job.id) &&
      stopsTrade(hold, trade) &&
      (parseInstant(hold.to, zoneOfJob(company, job)) ?? 0) > minuteOfDate(saidAt),
  );
}

function sayDone({ isTakenBack, settledAt, settledBy }: SiteReport, zone: string): string {
  if (isTakenBack) return "Taken back.";
  if (settledAt === null) return "";
  return `Settled ${dayAndClock(minuteOfDate(settledAt), zone, "en")} by ${settledBy ?? "somebody"}.`;
}

function listLinks(report: SiteReport, isThere: boolean): readonly ReportLink[] {
  const { body, jobId, taskId, applied, meets, crewId, date } = report;
  const at = `${jobId}/${taskId}`;
  const hours = (value: number | null) => (value === null ? [] : ([["hours", String(value)]] as const));
  const ways: ReportLink = { page: "ways", words: "Ways out", fields: [] };
  const house: readonly ReportLink[] =
    isThere && jobId !== null && taskId !== null
      ? [{ page: "job", words: "The task, to change by hand", fields: [[jobId, taskId]] }]
      : [];
  switch (body.kind) {
    case "start":
    case "done":
      return applied && meets === null ? [] : house;
    case "hours-left":
      return [...(applied ? [ways] : []), ...(applied && meets === null ? [] : house)];
    case "stuck":
      return applied
        ? [ways, { page: "holds", words: "The hold: lengthen or lift it", fields: [] }, ...house]
        : house;
    case "damage":
      if (!isThere) return [];
      return [
        ...(applied ? [ways] : []),
        ...(applied
          ? []
          : [slip("More hours on this task", [["slip", "hours-added"], ["task", at], ...hours(body.hours)])]),
        slip("Add a task for it", [["slip", "task-added"], ["place", `after:${at}`], ...hours(body.hours)]),
      ];
    case "stretch":
      return [
        {
          page: "ways",
          words: "What a stretch that day would save",
          fields: [
            ["chosen", "yes"],
            ["stretch", date],
          ],
        },
      ];
    case "short-handed":
      return [
        ...(applied ? [ways] : []),
        slip("This crew is out", [
          ["slip", "day-off-added"],
          ["crew", crewId],
          ["from", date],
        ]),
      ];
  }
}

const slip = (words: string, fields: ReportLink["fields"]): ReportLink => ({ page: "slip", words, fields });
