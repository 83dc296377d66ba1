/**
 * The waiting sheet: houses down, trades across in the company's build order, and in every cell how far that trade is at
 * that house: done, under way, scheduled, or waiting on what, until when and because of whom, down to the root.
 */
import type { Job, Task } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import type { BecauseKind } from "../domain/plan-format.js";
import { civilDate, civilDateAt, type CivilDate } from "../domain/time.js";
import { finishDate, lateDays } from "./cost-view.js";
import { instantOf, type Reading } from "./reading.js";
import { distantRoot, followReasons, type ReasonLink } from "./reason-chain.js";
import { dayAndClock, endDayAndClock, shortDate } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";

export type CellState = "done" | "under-way" | "scheduled" | "waiting" | "impossible";

export interface CellView {
  readonly state: CellState;
  /** The state in words. */
  readonly label: string;
  /** "2 of 3 tasks done"; empty where there is one task. */
  readonly progress: string;
  /** "Alder, Tue 8 Dec". */
  readonly when: string;
  /** "ready since Fri 4 Dec, 12:00 pm": when all before it was or will be done; empty where that is what it waits for. */
  readonly since: string;
  /** What it waits on; empty unless it waits. */
  readonly why: string;
  /** "Root: Set stone at 27 Wharf Road (Cedar)"; empty where the reason is its own root. */
  readonly root: string;
}

export interface WaitingRowView {
  readonly jobId: string;
  readonly jobName: string;
  /** "promised Fri 11 Dec". */
  readonly promised: string;
  /** "ready Fri 11 Dec", and how late. */
  readonly ready: string;
  readonly isLate: boolean;
  /** One for each column; undefined where the house has no such work. */
  readonly cells: readonly (CellView | undefined)[];
}

export interface WaitingView {
  readonly columns: readonly { readonly stamp: StampView; readonly name: string }[];
  readonly rows: readonly WaitingRowView[];
  /** Houses whose last task is done. */
  readonly finished: readonly string[];
}

const LABELS = {
  done: "done",
  "under-way": "under way",
  scheduled: "scheduled",
  waiting: "waiting",
  impossible: "cannot be planned",
} as const satisfies Record<CellState, string>;

/** Whether a reason is somebody or something else that is waited for; the rest is only the hour of the day. */
const IS_A_WAIT = {
  "start-of-plan": false,
  "crew-busy": true,
  "crew-off": false,
  access: false,
  "no-light": false,
  hold: true,
  "after-task": true,
  curing: true,
  "not-before": true,
  delivery: true,
  wait: true,
  "close-by-dark": false,
  equipment: true,
  published: false,
} as const satisfies Record<BecauseKind, boolean>;

/** The ledger as of a date; work that starts on that date or the next is scheduled, whatever it waited for. */
export function buildWaitingView(reading: Reading, today: CivilDate, tomorrow: CivilDate): WaitingView {
  const { company } = reading;
  const isOpen = (job: Job): boolean => job.tasks.some((task) => task.status !== "done");
  const open = company.jobs.filter(isOpen);
  const used = new Set(open.flatMap((job) => job.tasks.map((task) => task.trade)));
  const trades = company.trades.filter((trade) => used.has(trade.id)).map((trade) => trade.id);
  const columns: readonly (string | null)[] = used.has(null) ? [...trades, null] : trades;
  return {
    columns: columns.map((id) => ({
      stamp: stampOf(company.trades, id),
      name: id === null ? "Inspections and waits" : (reading.trades.get(id)?.name.en ?? id),
    })),
    rows: open.map((job) => ({
      jobId: job.id,
      jobName: job.name,
      promised:
        job.promised === null ? "no date promised" : `promised ${shortDate(civilDate(job.promised), "en")}`,
      ...readyText(reading, job),
      cells: columns.map((trade) => cellOf(reading, job, trade, today, tomorrow)),
    })),
    finished: company.jobs.filter((job) => job.tasks.length > 0 && !isOpen(job)).map((job) => job.name),
  };
}

/** When a house will be ready and whether that is late, in words. */
export function readyText(reading: Reading, job: Job): { readonly ready: string; readonly isLate: boolean } {
  const finish = finishDate(reading, job);
  if (job.tasks.every((task) => task.status === "done")) return { ready: "all done", isLate: false };
  if (finish === undefined) return { ready: "no end in sight: see what cannot be planned", isLate: true };
  const late = lateDays(reading, job);
  const ready = `ready ${shortDate(finish, "en")}`;
  return late === 0
    ? { ready, isLate: false }
    : { ready: `${ready}, ${late} ${late === 1 ? "day" : "days"} late`, isLate: true };
}

function cellOf(
  reading: Reading,
  job: Job,
  trade: string | null,
  today: CivilDate,
  tomorrow: CivilDate,
): CellView | undefined {
  const tasks = job.tasks.filter((task) => task.trade === trade);
  if (tasks.length === 0) return undefined;
  const done = tasks.filter((task) => task.status === "done").length;
  const progress = tasks.length === 1 ? "" : `${done} of ${tasks.length} tasks done`;
  const task = firstOpen(reading, job, tasks);
  if (task === undefined) return { ...BLANK, state: "done", label: LABELS.done, progress };
  const state = stateOf(reading, job, task, today, tomorrow);
  const cell = { ...BLANK, state, label: LABELS[state], progress };
  const planned = reading.planned(job.id, task.id);
  if (planned === undefined)
    return { ...cell, why: reading.impossible(job.id, task.id) ?? "not in the plan" };
  const zone = zoneOfJob(reading.company, job);
  const crew = planned.crew === null ? "" : `${planned.crew.name}, `;
  const when =
    state === "under-way"
      ? `${crew}until ${endDayAndClock(planned.end, zone, "en")}`
      : `${crew}${dayAndClock(planned.start, zone, "en")}`;
  if (state !== "waiting") return { ...cell, when };
  const root = distantRoot(followReasons(reading, job.id, task.id));
  return {
    ...cell,
    when,
    since: sinceText(reading, job, task, planned.because.kind, zone),
    why: planned.because.text.en,
    root: root === undefined ? "" : rootText(root),
  };
}

const WAITS_FOR_WORK_BEFORE: ReadonlySet<BecauseKind> = new Set(["after-task", "curing", "wait"]);

/** Since when, or from when on, nothing of the house's own work stands in a task's way. */
function sinceText(reading: Reading, job: Job, task: Task, kind: BecauseKind, zone: string): string {
  if (WAITS_FOR_WORK_BEFORE.has(kind)) return "";
  const ready = task.after.map((link) => {
    const before = reading.task(job.id, link.task);
    const finished = before?.finishedAt == null ? undefined : instantOf(before.finishedAt, zone);
    const end = before?.status === "done" ? finished : reading.planned(job.id, link.task)?.end;
    return end === undefined ? undefined : end + link.lagHours * 60;
  });
  const known = ready.filter((end) => end !== undefined);
  if (known.length === 0 || known.length < ready.length) return "";
  const since = Math.max(...known);
  const isPast = since <= instantOf(reading.plan.asOf, reading.zone);
  return `ready ${isPast ? "since" : "from"} ${dayAndClock(since, zone, "en")}`;
}

/** The root with its own reason, where that is more than the hour of the day. */
function rootText(root: ReasonLink): string {
  const text = `${root.taskTitle} at ${root.jobName} (${root.crewName})`;
  return IS_A_WAIT[root.kind] ? `${text}. ${root.why}` : text;
}

const BLANK = { when: "", since: "", why: "", root: "" } as const;

/** What is under way, else what cannot be planned, else what starts first. */
function firstOpen(reading: Reading, job: Job, tasks: readonly Task[]): Task | undefined {
  const open = tasks.filter((task) => task.status !== "done");
  const start = (task: Task): number => reading.planned(job.id, task.id)?.start ?? -Infinity;
  return open.find((task) => task.status === "under-way") ?? open.sort((a, b) => start(a) - start(b))[0];
}

function stateOf(reading: Reading, job: Job, task: Task, today: CivilDate, tomorrow: CivilDate): CellState {
  if (task.status !== "to-do") return task.status;
  const planned = reading.planned(job.id, task.id);
  if (planned === undefined) return "impossible";
  const date = civilDateAt(planned.start, zoneOfJob(reading.company, job));
  if (date === today || date === tomorrow) return "scheduled";
  return IS_A_WAIT[planned.because.kind] ? "waiting" : "scheduled";
}
