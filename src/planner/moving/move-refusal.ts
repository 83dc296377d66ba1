/**
 * Whether a piece of planned work may be picked up and put somewhere else, as far as that can be said without planning:
 * what is done, under way, or promised inside the freeze stays; a crew needs the trade, the people and a shift.
 */
import type { Company, Crew, Job, Task } from "../../domain/company-schema.js";
import type { BecauseKind } from "../../domain/plan-format.js";
import { civilDateAt, weekdayOf, type CivilDate, type Minute } from "../../domain/time.js";
import type { PublishedPromise } from "../compile/promises.js";

/** Where on the crew's day: among the tasks that it begins then. */
export type MovePlace =
  | { readonly kind: "first" }
  | { readonly kind: "last" }
  | { readonly kind: "before" | "after"; readonly job: string; readonly task: string };

/** What a dispatcher wishes: this crew begins the task on that date (of the company's zone), at that place in its day. */
export interface MoveWish {
  readonly job: string;
  readonly task: string;
  readonly crew: string;
  readonly date: CivilDate;
  readonly place: MovePlace;
}

/** Why work cannot be picked up at all. */
export type HeldWork =
  | { readonly kind: "done" }
  | { readonly kind: "under-way"; readonly crew: string | null }
  | { readonly kind: "wait" }
  /** It stands on a published day sheet inside the freeze that nobody has released. */
  | { readonly kind: "sheet-held"; readonly crew: string; readonly date: CivilDate };

/** What keeps a task from starting earlier. */
export interface HeldBack {
  /** The sentence of the plan; empty where that would only repeat the wished day. */
  readonly because: string;
  readonly kinds: readonly BecauseKind[];
}

/** Why a wish cannot be kept: facts, which are put in words where people read them. */
export type MoveRefusal =
  | HeldWork
  | { readonly kind: "no-such-task" }
  | { readonly kind: "no-such-crew"; readonly crew: string }
  | { readonly kind: "not-planned" }
  | { readonly kind: "past"; readonly date: CivilDate }
  | { readonly kind: "lacks-trade"; readonly trade: string; readonly able: readonly string[] }
  | { readonly kind: "too-small"; readonly size: number; readonly least: number }
  | { readonly kind: "crew-off"; readonly date: CivilDate; readonly why: string }
  | { readonly kind: "no-shift"; readonly date: CivilDate }
  /** It would begin another day, or with another crew: `because` or, where that is empty, `kinds` say what holds it back. */
  | ({ readonly kind: "not-then"; readonly start: CivilDate; readonly crew: string } & HeldBack)
  /** That task comes before it and is not over by then; `end` with what must cure or dry after it. */
  | { readonly kind: "comes-after"; readonly job: string; readonly task: string; readonly end: Minute }
  /** It would come to stand on the other side of the task that it was put beside. */
  | ({ readonly kind: "not-there"; readonly job: string; readonly task: string } & HeldBack)
  | { readonly kind: "together"; readonly job: string; readonly task: string }
  /** No plan would have that task any more. */
  | { readonly kind: "left-out"; readonly job: string; readonly task: string; readonly why: string }
  /** Other work would have to leave a day sheet that is held. */
  | {
      readonly kind: "holds-other";
      readonly job: string;
      readonly task: string;
      readonly crew: string;
      readonly date: CivilDate;
    }
  | { readonly kind: "as-it-is" };

/** Why a task stays where it is; undefined where it may be moved. `promises`: those that bind now. */
export function findHeld(
  job: Pick<Job, "id">,
  task: Task,
  promises: readonly PublishedPromise[],
): HeldWork | undefined {
  if (task.status === "done") return { kind: "done" };
  if (task.trade === null) return { kind: "wait" };
  if (task.status === "under-way") return { kind: "under-way", crew: task.doneBy ?? task.crew };
  const promise = promises.find((one) => one.job === job.id && one.task === task.id);
  return promise && { kind: "sheet-held", crew: promise.crew, date: promise.date };
}

/** Crews that have the trade of a task and are strong enough for it. */
export function listAbleCrews(company: Company, task: Task): readonly Crew[] {
  const { trade, minCrew } = task;
  if (trade === null) return [];
  return company.crews.filter((crew) => crew.trades[trade] !== undefined && crew.size >= minCrew);
}

/** What forbids a wish before anything is planned; undefined where nothing does. */
export function findPlainRefusal(
  company: Company,
  asOf: Minute,
  wish: MoveWish,
  promises: readonly PublishedPromise[],
): MoveRefusal | undefined {
  const job = company.jobs.find(({ id }) => id === wish.job);
  const task = job?.tasks.find(({ id }) => id === wish.task);
  if (job === undefined || task === undefined) return { kind: "no-such-task" };
  const held = findHeld(job, task, promises);
  if (held !== undefined) return held;
  const crew = company.crews.find(({ id }) => id === wish.crew);
  if (crew === undefined) return { kind: "no-such-crew", crew: wish.crew };
  const { place } = wish;
  if ("task" in place) {
    const other = company.jobs.find(({ id }) => id === place.job)?.tasks.find(({ id }) => id === place.task);
    if (other === undefined) return { kind: "no-such-task" };
    if (place.job === wish.job && place.task === wish.task) return { kind: "as-it-is" };
  }
  if (wish.date < civilDateAt(asOf, company.company.timeZone)) return { kind: "past", date: wish.date };
  return findCrewRefusal(company, crew, task, wish.date);
}

function findCrewRefusal(company: Company, crew: Crew, task: Task, date: CivilDate): MoveRefusal | undefined {
  const trade = task.trade ?? "";
  if (crew.trades[trade] === undefined) {
    return { kind: "lacks-trade", trade, able: listAbleCrews(company, task).map(({ id }) => id) };
  }
  if (crew.size < task.minCrew) return { kind: "too-small", size: crew.size, least: task.minCrew };
  const off = crew.off.find(({ from, to }) => from <= date && date <= to);
  if (off !== undefined) return { kind: "crew-off", date, why: off.why };
  const hasShift =
    crew.week[weekdayOf(date)] !== undefined || crew.extra.some((extra) => extra.date === date);
  return hasShift ? undefined : { kind: "no-shift", date };
}
