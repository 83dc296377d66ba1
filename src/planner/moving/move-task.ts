/**
 * A task moved by hand to a crew, a day and a place in that day: everything else keeps its crew and its order and is
 * planned around it. What comes out is a complete plan by the rules, or the rule that forbids the wish. Pure: the same
 * company, standing plan, minute and wish give the same plan.
 */
import type { Company } from "../../domain/company-schema.js";
import type { BecauseKind, Plan } from "../../domain/plan-format.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { addDays, dayStart, parseInstant, type Minute } from "../../domain/time.js";
import type { Compiled } from "../compile/compile.js";
import { listPromises } from "../compile/promises.js";
import { applyEdits, type CompanyEdit } from "../ways-out/company-edits.js";
import { buildHeldOrder } from "../ways-out/held-order.js";
import { holdOrder } from "../ways-out/hold-order.js";
import { findDifference, type PlanDifference } from "../ways-out/plan-difference.js";
import { taskKey, type PlannedWork } from "../ways-out/planned-work.js";
import { Recovery } from "../ways-out/recovery.js";
import { explain as explainSolved, workOf } from "../ways-out/to-way.js";
import {
  findPlainRefusal,
  type HeldBack,
  type MovePlace,
  type MoveRefusal,
  type MoveWish,
} from "./move-refusal.js";

export interface MoveOptions {
  /** Nothing is planned before. */
  readonly asOf: Minute;
  /** Goes into the plan; nothing is searched for. */
  readonly seed: number;
  /** The plan that people look at while they move something. */
  readonly standing: Plan;
}

/** The plan after a move, and what it means against the plan that stands. */
export interface MovedPlan {
  /** What the wish writes into the company. */
  readonly edits: readonly CompanyEdit[];
  /** The first minute of work on the task. */
  readonly start: Minute;
  readonly difference: PlanDifference;
  readonly costBefore: number;
  readonly costAfter: number;
  readonly lateDaysBefore: number;
  readonly lateDaysAfter: number;
  /** All work of the plan: two plans with the same work are the same plan. */
  readonly work: PlannedWork;
  /** The whole plan, with a reason for every start. */
  readonly explain: () => Plan;
}

/** The plan with the wish kept, or why it cannot be. */
export function moveTask(
  company: Company,
  options: MoveOptions,
  wish: MoveWish,
): Result<MovedPlan, MoveRefusal> {
  const { asOf, seed, standing } = options;
  const promises = listPromises(company, asOf);
  const plain = findPlainRefusal(company, asOf, wish, promises);
  if (plain !== undefined) return fail(plain);
  const { job, task } = wish;
  if (!standing.tasks.some((one) => one.job === job && one.task === task)) {
    return fail({ kind: "not-planned" });
  }
  const edits: readonly CompanyEdit[] = [
    { kind: "name-crew", job, task, crew: wish.crew },
    { kind: "not-before", job, task, date: wish.date },
  ];
  const recovery = new Recovery(applyEdits(company, edits), asOf, standing);
  const { compiled } = recovery.plain;
  const cannot = compiled.impossible.find((one) => one.job.id === job && one.task.id === task);
  if (cannot !== undefined) return fail({ kind: "left-out", job, task, why: cannot.why });
  const own = listTogether(compiled, wish);
  const { place } = wish;
  if ("task" in place && own.has(taskKey(place.job, place.task))) {
    return fail({ kind: "together", job: place.job, task: place.task });
  }
  const wished = placeInOrder(compiled, standing, wish, own);
  const solved = holdOrder(recovery, recovery.plain, buildHeldOrder(compiled, wished));
  const work = workOf(solved);
  let plan: Plan | undefined;
  const explain = (): Plan => (plan ??= explainSolved(solved, seed));
  const difference = findDifference(company, recovery.standingWork, work, asOf);
  const refusal =
    findUnkeptWish(company, wish, work, explain) ??
    findLeftOut(standing, countLeftOut(compiled, solved.unplaced), explain) ??
    findHeldOther(promises, difference, wish) ??
    (difference.moved.length + difference.days.length === 0 ? { kind: "as-it-is" } : undefined);
  if (refusal !== undefined) return fail(refusal);
  return ok({
    edits,
    start: work.get(taskKey(job, task))?.start ?? asOf,
    difference,
    costBefore: standing.cost.total,
    costAfter: solved.costed.figures.total,
    lateDaysBefore: standing.cost.lateDays,
    lateDaysAfter: solved.costed.figures.lateDays,
    work,
    explain,
  });
}

/** The task itself, and what is worked with it unit by unit: they move together. */
function listTogether({ open, problem }: Compiled, wish: MoveWish): ReadonlySet<string> {
  const index = open.findIndex(({ job, task }) => job.id === wish.job && task.id === wish.task);
  const activity = problem.activities[problem.activityOf[index] ?? -1];
  const tasks = activity?.tasks ?? [];
  return new Set(
    [...tasks].flatMap((one) => {
      const facts = open[one];
      return facts === undefined ? [] : [taskKey(facts.job.id, facts.task.id)];
    }),
  );
}

/** The standing plan with the moved work begun where it is wished: only crews and the order of starts are read from it. */
function placeInOrder(
  { days }: Compiled,
  standing: Plan,
  { crew, date, place }: MoveWish,
  own: ReadonlySet<string>,
): Plan {
  const others = standing.tasks.filter((one) => !own.has(taskKey(one.job, one.task)));
  const starts = others.flatMap((one) => {
    const start = days.parse(one.start);
    return one.crew === crew && days.date(days.dayOf(start)) === date ? [start] : [];
  });
  const minute = startOf(place, starts, {
    dayStart: dayStart(date, days.zone),
    startOfTask: (job, task) => {
      const entry = others.find((one) => one.job === job && one.task === task);
      return entry && days.parse(entry.start);
    },
  });
  const start = days.iso(minute);
  return {
    ...standing,
    tasks: standing.tasks.map((one) =>
      own.has(taskKey(one.job, one.task)) ? { ...one, crew, start, end: start } : one,
    ),
  };
}

function startOf(
  place: MovePlace,
  startsThatDay: readonly Minute[],
  day: {
    readonly dayStart: Minute;
    readonly startOfTask: (job: string, task: string) => Minute | undefined;
  },
): Minute {
  switch (place.kind) {
    case "first":
      // Behind what was begun on a day before, and before everything that is begun on this one.
      return day.dayStart;
    case "last":
      return Math.max(...startsThatDay, day.dayStart) + 1;
    case "before":
      return (day.startOfTask(place.job, place.task) ?? day.dayStart + 1) - 1;
    case "after":
      return (day.startOfTask(place.job, place.task) ?? day.dayStart) + 1;
  }
}

function findUnkeptWish(
  company: Company,
  wish: MoveWish,
  work: PlannedWork,
  explain: () => Plan,
): MoveRefusal | undefined {
  const { job, task, crew, date, place } = wish;
  const own = work.get(taskKey(job, task));
  if (own === undefined) {
    const why = explain().impossible.find((one) => one.job === job && one.task === task)?.why ?? "";
    return { kind: "left-out", job, task, why };
  }
  const heldBack = (): HeldBack => {
    const because = explain().tasks.find((one) => one.job === job && one.task === task)?.because;
    if (because === undefined) return { because: "", kinds: [] };
    // That it does not start before the wished day is the wish itself; what else binds is the answer.
    if (because.kind === "not-before") return { because: "", kinds: withoutNights(because.also ?? []) };
    return { because: because.text.en, kinds: [because.kind] };
  };
  const [first] = own.days;
  if (first !== undefined && (first.date !== date || first.crew !== crew)) {
    const before = first.date > date ? findBefore(company, wish, explain()) : undefined;
    return before ?? { kind: "not-then", start: first.date, crew: first.crew, ...heldBack() };
  }
  if (!("task" in place)) return undefined;
  const other = work.get(taskKey(place.job, place.task));
  const isThere =
    other === undefined || (place.kind === "before" ? own.start < other.start : own.start > other.start);
  return isThere ? undefined : { kind: "not-there", job: place.job, task: place.task, ...heldBack() };
}

/** From one day to another every crew is off in between, which says nothing where something else does. */
function withoutNights(kinds: readonly BecauseKind[]): readonly BecauseKind[] {
  const others = kinds.filter((kind) => kind !== "crew-off");
  return others.length > 0 ? others : kinds;
}

/** What the task follows and what is not over by the end of the wished date: the last of it. */
function findBefore(
  company: Company,
  { job: jobId, task: id, date }: MoveWish,
  plan: Plan,
): MoveRefusal | undefined {
  const job = company.jobs.find((one) => one.id === jobId);
  const task = job?.tasks.find((one) => one.id === id);
  const zone = company.company.timeZone;
  const over = (task?.after ?? []).flatMap(({ task: before, lagHours }) => {
    const entry = plan.tasks.find((one) => one.job === jobId && one.task === before);
    const end = entry === undefined ? undefined : parseInstant(entry.end, zone);
    return end === undefined ? [] : [{ before, end: end + Math.round(lagHours * 60) }];
  });
  const [last] = over.sort((a, b) => b.end - a.end);
  if (last === undefined || last.end < dayStart(addDays(date, 1), zone)) return undefined;
  return { kind: "comes-after", job: jobId, task: last.before, end: last.end };
}

function countLeftOut({ problem, impossible }: Compiled, unplaced: readonly number[]): number {
  return unplaced.reduce(
    (sum, index) => sum + (problem.activities[index]?.tasks.length ?? 0),
    impossible.length,
  );
}

function findLeftOut(standing: Plan, leftOut: number, explain: () => Plan): MoveRefusal | undefined {
  if (leftOut <= standing.impossible.length) return undefined;
  const known = new Set(standing.impossible.map((one) => taskKey(one.job, one.task)));
  const lost = explain().impossible.find((one) => !known.has(taskKey(one.job, one.task)));
  return lost && { kind: "left-out", job: lost.job, task: lost.task, why: lost.why };
}

/** Work of others on held sheets that the move would push away. */
function findHeldOther(
  promises: ReturnType<typeof listPromises>,
  { moved }: PlanDifference,
  wish: MoveWish,
): MoveRefusal | undefined {
  for (const { job, task, before } of moved) {
    const promise = promises.find((one) => one.job === job && one.task === task);
    if (promise === undefined || (job === wish.job && task === wish.task)) continue;
    const { crew, date } = promise;
    const wasKept = before?.crews.includes(crew) === true && before.dates.includes(date);
    if (wasKept) return { kind: "holds-other", job, task, crew, date };
  }
  return undefined;
}
