/**
 * How far the plan that stands has drifted from what is published, in sentences: "Siding at Spruce Street: published
 * Tue 8 Dec, now Thu 10 Dec — Alder is held at Harbor Road". Facts come from the comparison, reasons from the plan.
 */
import type { CivilDate } from "../domain/time.js";
import { minuteOfDate } from "../domain/time.js";
import type { PromiseChange, TaskMove, TaskPlace } from "../planner/ways-out/plan-difference.js";
import { taskTitle } from "./board-tags.js";
import { findDayReason, isMorningReason, type DayReason } from "./day-reason.js";
import type { PublishedBy, PublishedPromise } from "./promise.js";
import type { Reading } from "./reading.js";
import { distantRoot, followReasons } from "./reason-chain.js";
import { dayAndClock, shortDate } from "./spoken-time.js";

export interface MovedLine {
  readonly jobId: string;
  /** "Siding at Spruce Street". */
  readonly what: string;
  /** "published Tue 8 Dec, now Thu 10 Dec". */
  readonly change: string;
  /** Empty where nothing is to be said. */
  readonly why: string;
  /** Whether it is later than published, or in no plan any more. */
  readonly isWorse: boolean;
}

export interface PromiseLine {
  readonly jobId: string;
  readonly sentence: string;
  readonly isBroken: boolean;
}

export interface DriftView {
  /** Tasks that were published and are worked otherwise now, the soonest first. */
  readonly moved: readonly MovedLine[];
  /** Promised dates that are broken or saved since, or missed by more or fewer days. */
  readonly promises: readonly PromiseLine[];
  /** "3 tasks are planned and not published yet."; empty where there are none. */
  readonly unpublished: string;
}

/** All of it, or, with a date, what was or is on that date. Nothing is published: nothing has drifted. */
export function buildDriftView(reading: Reading, promise: PublishedPromise, date?: CivilDate): DriftView {
  const { difference } = promise;
  if (difference === null) return { moved: [], promises: [], unpublished: "" };
  const isMeant = ({ before, after }: TaskMove): boolean =>
    date === undefined || [before, after].some((place) => place?.dates.includes(date) === true);
  const moved = difference.moved.filter((move) => move.before !== null && isMeant(move));
  const unpublished = difference.moved.filter((move) => move.before === null && isMeant(move)).length;
  return {
    moved: moved.toSorted(bySoonest).flatMap((move) => movedLine(reading, move)),
    promises: date === undefined ? difference.promises.flatMap((change) => promiseLine(reading, change)) : [],
    unpublished:
      unpublished === 0
        ? ""
        : `${unpublished} ${unpublished === 1 ? "task is" : "tasks are"} planned and not published yet.`,
  };
}

/** "Published Mon 7 Dec, 6:00 pm by Robin." */
export function sayPublishedBy(by: PublishedBy | null, zone: string): string {
  if (by === null) return "Published.";
  const when = dayAndClock(minuteOfDate(by.madeAt), zone, "en");
  const how = by.kind === "company-loaded" ? "Came as published with the company file" : "Published";
  return `${how} ${when} by ${by.personName}${by.why === "" ? "." : `: ${by.why}`}`;
}

function bySoonest(a: TaskMove, b: TaskMove): number {
  const first = ({ before, after }: TaskMove): string =>
    [before?.dates[0], after?.dates[0]].filter((text) => text !== undefined).sort()[0] ?? "";
  return first(a) < first(b) ? -1 : first(a) > first(b) ? 1 : 0;
}

function movedLine(reading: Reading, move: TaskMove): MovedLine[] {
  const job = reading.jobs.get(move.job);
  const task = reading.task(move.job, move.task);
  const { before, after } = move;
  if (job === undefined || task === undefined || before === null) return [];
  const hasOtherCrew = after !== null && before.crews.join() !== after.crews.join();
  const place = (of: TaskPlace): string =>
    `${listDays(of.dates)}${hasOtherCrew ? ` with ${of.crews.map((id) => reading.crews.get(id)?.name ?? id).join(" and ")}` : ""}`;
  const isLater =
    after === null ||
    (after.dates[0] ?? "") > (before.dates[0] ?? "") ||
    (after.dates.at(-1) ?? "") > (before.dates.at(-1) ?? "");
  return [
    {
      jobId: job.id,
      what: `${taskTitle(task.title, task.area)} at ${job.name}`,
      change: `published ${place(before)}, now ${after === null ? "in no plan" : place(after)}`,
      // Only the day on which it begins has a reason in the plan.
      why: after === null || (after.dates[0] ?? "") > (before.dates[0] ?? "") ? whyLater(reading, move) : "",
      isWorse: isLater,
    },
  ];
}

const MOST_DAYS = 3;

/** "Tue 8 Dec, Wed 9 Dec"; of many the first and the last. */
function listDays(dates: readonly CivilDate[]): string {
  const spoken = dates.map((date) => shortDate(date, "en"));
  return spoken.length > MOST_DAYS ? `${spoken[0] ?? ""} to ${spoken.at(-1) ?? ""}` : spoken.join(", ");
}

/** What keeps it from the day for which it was published, and what is at the root of that where it is elsewhere. */
function whyLater(reading: Reading, { job: jobId, task: taskId, before, after }: TaskMove): string {
  if (after === null) return reading.impossible(jobId, taskId) ?? "";
  const job = reading.jobs.get(jobId);
  const task = reading.task(jobId, taskId);
  const because = reading.planned(jobId, taskId)?.because;
  if (job === undefined || task === undefined || because === undefined) return "";
  const [date] = before?.dates ?? [];
  if (isMorningReason(because.kind) && date !== undefined) {
    const reason = findDayReason(reading, job, task, before?.crews[0] ?? "", date);
    if (reason !== undefined) return sayDayReason(reason);
  }
  const links = followReasons(reading, jobId, taskId);
  const elsewhere =
    because.by === null || because.by.job === jobId ? undefined : reading.jobs.get(because.by.job);
  const why =
    because.kind === "crew-busy" && elsewhere !== undefined
      ? `${links[0]?.crewName ?? "the crew"} is held at ${elsewhere.name}`
      : because.text.en.replace(/\.$/, "");
  const root = distantRoot(links);
  if (root === undefined || isMorningReason(root.kind)) return why;
  return `${why}; at the root of it ${root.taskTitle} at ${root.jobName}: ${root.why.replace(/\.$/, "")}`;
}

function sayDayReason(reason: DayReason): string {
  const day = shortDate(reason.date, "en");
  switch (reason.kind) {
    case "crew-off":
      return `${reason.crewName} is off ${day}${reason.why === "" ? "" : `: ${reason.why}`}`;
    case "hold":
      return `on hold ${day}${reason.why === "" ? "" : `: ${reason.why}`}`;
    case "comes-after":
      return `comes after "${reason.title}", done ${day}`;
    case "elsewhere":
      return `${reason.crewName} is held at ${reason.job.name}`;
  }
}

function promiseLine(reading: Reading, change: PromiseChange): PromiseLine[] {
  const { lateBefore, lateAfter, kind } = change;
  const job = reading.jobs.get(change.job);
  // What was not published as a whole had no end that could have been promised.
  if (job === undefined || lateBefore === null || kind === "as-late") return [];
  const promised = `${job.name}, promised ${shortDate(change.promised, "en")}`;
  const now = lateAfter === null ? "no end in sight" : lateAfter === 0 ? "kept" : `${days(lateAfter)} late`;
  const before = lateBefore === 0 ? "kept" : `${days(lateBefore)} late`;
  return [
    {
      jobId: job.id,
      sentence: `${promised}: ${before} as published, now ${now}`,
      isBroken: kind === "broken" || kind === "later",
    },
  ];
}

function days(count: number): string {
  return `${count} ${count === 1 ? "day" : "days"}`;
}
