/**
 * A house: its tasks in order, each with who, when and why then, and the chain of reasons followed to its root.
 * And the list of all houses.
 */
import type { Job, Task } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { civilDate } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import { lateDays } from "./cost-view.js";
import { instantOf, type PlannedTask, type Reading } from "./reading.js";
import { followReasons, type ReasonLink } from "./reason-chain.js";
import { dayAndClock, endDayAndClock, longDate, shortDate } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";
import { readyText } from "./waiting-view.js";

export interface JobTaskView {
  readonly id: string;
  readonly title: string;
  readonly stamp: StampView;
  readonly trade: string;
  /** "to do", "under way", "done", "cannot be planned". */
  readonly state: string;
  readonly isImpossible: boolean;
  /** "Alder"; "no crew" for a wait. */
  readonly crew: string;
  readonly crewId: string | null;
  /** "Tue 8 Dec, 7:46 am to 2:36 pm". */
  readonly when: string;
  readonly hours: string;
  readonly why: string;
  /** The reasons after the first, down to the root. */
  readonly chain: readonly ReasonLink[];
}

export interface JobView {
  readonly id: string;
  readonly name: string;
  readonly address: string;
  readonly promised: string;
  readonly ready: string;
  readonly isLate: boolean;
  readonly yearBuilt: string;
  readonly deliveries: readonly string[];
  readonly tasks: readonly JobTaskView[];
}

export interface JobLineView {
  readonly id: string;
  readonly name: string;
  readonly address: string;
  readonly promised: string;
  readonly ready: string;
  readonly lateDays: number;
  readonly isLate: boolean;
  /** "2 of 5 done". */
  readonly progress: string;
  /** "Alder, Tue 8 Dec, 7:46 am: Siding"; empty where nothing is planned. */
  readonly next: string;
}

/** Every house of the company, those in trouble or late first, then by the promised date. */
export function listJobLines(reading: Reading): readonly JobLineView[] {
  const lines = reading.company.jobs.map((job) => ({ job, line: jobLine(reading, job) }));
  const promised = (job: Job): string => job.promised ?? "9999-12-31";
  return lines
    .sort(
      (a, b) =>
        Number(b.line.isLate) - Number(a.line.isLate) ||
        promised(a.job).localeCompare(promised(b.job)) ||
        a.line.name.localeCompare(b.line.name),
    )
    .map(({ line }) => line);
}

/** The page of one house. */
export function buildJobView(reading: Reading, job: Job): JobView {
  return {
    id: job.id,
    name: job.name,
    address: job.site.address,
    promised: promisedText(job),
    ...readyText(reading, job),
    yearBuilt: job.yearBuilt === null ? "" : `built ${job.yearBuilt}`,
    deliveries: job.deliveries.map(
      (item) =>
        `${item.what}: ${item.received ? "received" : `expected ${longDate(civilDate(item.expected), "en")}`}`,
    ),
    tasks: inOrder(reading, job).map((task) => taskView(reading, job, task)),
  };
}

function jobLine(reading: Reading, job: Job): JobLineView {
  const done = job.tasks.filter((task) => task.status === "done").length;
  const next = nextTask(reading, job);
  const zone = zoneOfJob(reading.company, job);
  const crew = next?.planned.crew?.name;
  return {
    id: job.id,
    name: job.name,
    address: job.site.address,
    promised: promisedText(job),
    ...readyText(reading, job),
    lateDays: lateDays(reading, job),
    progress: `${done} of ${job.tasks.length} done`,
    next:
      next === undefined
        ? ""
        : `${crew === undefined ? "" : `${crew}, `}${dayAndClock(next.planned.start, zone, "en")}: ${next.task.title}`,
  };
}

/** The first task that a crew comes for; a wait only where no crew comes at all. */
function nextTask(
  reading: Reading,
  job: Job,
): { readonly task: Task; readonly planned: PlannedTask } | undefined {
  const open = inOrder(reading, job).flatMap((task) => {
    const planned = reading.planned(job.id, task.id);
    return planned === undefined ? [] : [{ task, planned }];
  });
  return open.find((item) => item.planned.crew !== null) ?? open[0];
}

/** Done first, then by planned start; what cannot be planned last; ties in the order of the file. */
function inOrder(reading: Reading, job: Job): readonly Task[] {
  const rank = (task: Task): number =>
    task.status === "done" ? -Infinity : (reading.planned(job.id, task.id)?.start ?? Number.MAX_SAFE_INTEGER);
  return [...job.tasks].sort((a, b) => (rank(a) === rank(b) ? 0 : rank(a) - rank(b)));
}

function taskView(reading: Reading, job: Job, task: Task): JobTaskView {
  const zone = zoneOfJob(reading.company, job);
  const planned = reading.planned(job.id, task.id);
  const impossible = reading.impossible(job.id, task.id);
  const doer = task.doneBy === null ? undefined : reading.crews.get(task.doneBy);
  const crew = task.status === "done" ? doer : (planned?.crew ?? undefined);
  const links = followReasons(reading, job.id, task.id);
  return {
    id: task.id,
    title: taskTitle(task.title, task.area),
    stamp: stampOf(reading.company.trades, task.trade),
    trade: task.trade === null ? "a wait" : (reading.trades.get(task.trade)?.name.en ?? task.trade),
    state: impossible === undefined ? STATES[task.status] : "cannot be planned",
    isImpossible: impossible !== undefined,
    crew: crew?.name ?? (task.trade === null ? "no crew" : ""),
    crewId: crew?.id ?? null,
    when: planned === undefined ? finishedText(task, zone) : plannedText(planned, zone),
    hours: hoursText(task),
    why: impossible ?? planned?.because.text.en ?? "",
    chain: links.slice(1),
  };
}

const STATES = { "to-do": "to do", "under-way": "under way", done: "done" } as const satisfies Record<
  Task["status"],
  string
>;

function plannedText(planned: PlannedTask, zone: string): string {
  const start = dayAndClock(planned.start, zone, "en");
  const end = endDayAndClock(planned.end, zone, "en");
  const [startDay] = start.split(", ");
  const [endDay, endTime] = end.split(", ");
  return startDay === endDay && endTime !== undefined ? `${start} to ${endTime}` : `${start} to ${end}`;
}

function finishedText(task: Task, zone: string): string {
  return task.finishedAt === null
    ? ""
    : `finished ${dayAndClock(instantOf(task.finishedAt, zone), zone, "en")}`;
}

function hoursText(task: Task): string {
  if (task.trade === null) {
    const days = task.waitBusinessDays ?? 0;
    return `${days} business ${days === 1 ? "day" : "days"}`;
  }
  const left = task.status === "under-way" && task.leftHours !== null ? `, ${task.leftHours} left` : "";
  const units = task.units === 1 ? "" : ` in ${task.units} units`;
  return `${task.laborHours ?? 0} labor-hours${units}${left}`;
}

function promisedText(job: Job): string {
  return job.promised === null ? "no date promised" : shortDate(civilDate(job.promised), "en");
}
