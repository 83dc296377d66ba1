/**
 * What a standing plan has done by a minute: a company as it would stand then if everything had gone by that plan. So
 * two plans of that minute do not differ by the hours that have gone by, of which nobody has said anything.
 */
import { zoneOfJob, type Company, type Hold, type Job, type Task } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import { civilDateAt, parseInstant, type CivilDate, type Minute } from "../../domain/time.js";
import { toWallText } from "../../domain/wall-text.js";
import { listHoldsOf } from "../../weather/hold-list.js";
import { listChains } from "../compile/chains.js";
import { hoursLeft } from "../compile/staffing.js";
import { DateReader, taskKey, type WorkSpan } from "./planned-work.js";

/** What the plan has begun of a task. */
interface Begun {
  readonly start: Minute;
  readonly end: Minute;
  /** Null for what needs no crew. */
  readonly crew: string | null;
  /** All its work, before the minute and after it. */
  readonly spans: readonly WorkSpan[];
}

/** A company with what its plan has done by a minute, and that work. */
export interface DoneByPlan {
  readonly company: Company;
  /** Up to the minute. */
  readonly past: readonly WorkSpan[];
}

type TaskOf = { readonly job: Job; readonly task: Task };

export class PlanProgress {
  /** By `taskKey`, in order of their starts. */
  private readonly begun: ReadonlyMap<string, Begun>;
  /** By `taskKey`, labor-hours left as the plan's company says it. */
  private readonly hours: ReadonlyMap<string, number>;
  private readonly today: CivilDate;

  /** `company`: the one that the standing plan is of. */
  constructor(
    private readonly company: Company,
    standing: Plan,
    private readonly asOf: Minute,
  ) {
    this.today = civilDateAt(asOf, company.company.timeZone);
    this.begun = listBegun(company, standing, asOf);
    this.hours = new Map(
      company.jobs.flatMap((job) => job.tasks.map((task) => [taskKey(job.id, task.id), hoursLeft(task)])),
    );
  }

  /** Everything as the plan has it. */
  ofSame(): DoneByPlan {
    return this.advance(this.company, new Set(), []);
  }

  /**
   * The same for the company after a change. What the change says of a task holds as it is said; and what the plan has
   * begun behind such a task has not begun while that was not over.
   */
  ofChanged(after: Company): DoneByPlan {
    const stood = new Map(listTasks(this.company).map((one) => [taskKey(one.job.id, one.task.id), one.task]));
    const known = new Set(this.company.holds.map(({ id }) => id));
    const holds = after.holds.filter(({ id }) => !known.has(id));
    const said = new Set<string>();
    const overAt = new Map<string, Minute>();
    for (const { job, task } of listTasks(after)) {
      const key = taskKey(job.id, task.id);
      const before = stood.get(key);
      if (before !== undefined && isSameProgress(before, task)) {
        if (this.findHeld(after, { job, task }, holds) > 0) overAt.set(key, Infinity);
        continue;
      }
      said.add(key);
      const finished =
        task.status === "done" ? parseInstant(task.finishedAt ?? "", zoneOfJob(after, job)) : Infinity;
      overAt.set(key, finished ?? this.asOf);
    }
    return this.advance(after, new Set([...said, ...this.listWaiting(after, overAt)]), holds);
  }

  private advance(company: Company, asSaid: ReadonlySet<string>, holds: readonly Hold[]): DoneByPlan {
    const past: WorkSpan[] = [];
    const advance = (job: Job, task: Task): Task => {
      const key = taskKey(job.id, task.id);
      const begun = this.begun.get(key);
      if (begun === undefined) return task;
      if (task.status === "done") return this.leaveJustDone(key, task, begun);
      const isSaid = asSaid.has(key);
      if (!isSaid || (task.status === "under-way" && task.doneBy === begun.crew)) {
        past.push(...begun.spans.flatMap((span) => cutBefore(span, this.asOf)));
      }
      return isSaid ? task : this.advanceTask(company, { job, task }, begun, holds);
    };
    const jobs = company.jobs.map((job) => ({ ...job, tasks: job.tasks.map((task) => advance(job, task)) }));
    return { company: { ...company, jobs }, past };
  }

  private advanceTask(company: Company, { job, task }: TaskOf, begun: Begun, holds: readonly Hold[]): Task {
    const zone = zoneOfJob(company, job);
    const startedAt = task.startedAt ?? toWallText(begun.start, zone);
    if (begun.crew === null) {
      return begun.end > this.asOf
        ? { ...task, status: "under-way", startedAt }
        : { ...task, status: "done", startedAt, finishedAt: toWallText(begun.end, zone) };
    }
    const crew = company.crews.find(({ id }) => id === begun.crew);
    const pace = crew?.trades[task.trade ?? ""];
    if (crew === undefined || pace === undefined) return task;
    const speed = (crew.size * pace) / 60;
    const stood = this.hours.get(taskKey(job.id, task.id)) ?? 0;
    const all = sumMinutes(begun.spans, -Infinity);
    // A plan that was made of other hours does not say how much of these are left.
    if (Math.abs(all * speed - stood) > speed) return task;
    const held = this.findHeld(company, { job, task }, holds);
    const left = (sumMinutes(begun.spans, this.asOf) + held) * speed + hoursLeft(task) - stood;
    if (left <= LEAST_HOURS) {
      return {
        ...task,
        status: "done",
        leftHours: null,
        doneBy: crew.id,
        startedAt,
        finishedAt: toWallText(begun.end, zone),
      };
    }
    return { ...task, status: "under-way", leftHours: left, doneBy: crew.id, startedAt };
  }

  /**
   * A crew that has just finished what the plan would have it work on yet is still at that house, as in the plan: it has
   * to pick up and go on from there. So a minute of that work stays.
   */
  private leaveJustDone(key: string, task: Task, begun: Begun): Task {
    const wasOpen = (this.hours.get(key) ?? 0) > 0;
    const goesOn = begun.spans.some(({ date, end }) => date === this.today && end > this.asOf);
    if (begun.crew === null || !wasOpen || !goesOn) return task;
    return { ...task, status: "under-way", leftHours: LEAST_HOURS, doneBy: begun.crew, finishedAt: null };
  }

  /** Minutes up to now that the plan works on a task and that these holds take from it. */
  private findHeld(company: Company, { job, task }: TaskOf, holds: readonly Hold[]): number {
    const begun = this.begun.get(taskKey(job.id, task.id));
    if (begun === undefined) return 0;
    const zone = zoneOfJob(company, job);
    const trade = company.trades.find(({ id }) => id === task.trade);
    if (trade === undefined) return 0;
    const times = listHoldsOf(holds, trade, job.id, zone).map(({ interval }) => interval);
    return begun.spans.reduce((sum, span) => {
      const end = Math.min(span.end, this.asOf);
      const within = times.map((time) => Math.min(time.end, end) - Math.max(time.start, span.start));
      return sum + Math.max(0, ...within);
    }, 0);
  }

  /** What the plan has begun and cannot have begun, since what it follows, or its crew's work before it, was over later. */
  private listWaiting(company: Company, overAt: ReadonlyMap<string, Minute>): ReadonlySet<string> {
    const over = new Map(overAt);
    const waiting = new Set<string>();
    const together = listTogether(company);
    const follows = new Map(
      listTasks(company).map(({ job, task }) => [
        taskKey(job.id, task.id),
        task.status === "to-do" ? task.after.map((before) => taskKey(job.id, before.task)) : null,
      ]),
    );
    for (const [key, { start, crew }] of this.begun) {
      const befores = follows.get(key);
      // What somebody has said to be under way, is.
      if (befores === undefined || befores === null || over.has(key)) continue;
      const isBehind = [...over].some(([earlier, end]) => {
        const before = this.begun.get(earlier);
        if (end <= start || together.get(earlier) === together.get(key)) return false;
        return befores.includes(earlier) || (crew !== null && before?.crew === crew && before.start <= start);
      });
      if (!isBehind) continue;
      waiting.add(key);
      over.set(key, Infinity);
    }
    return waiting;
  }
}

/** A hundredth: below a minute of anybody's work. */
const LEAST_HOURS = 0.01;

function listBegun(company: Company, standing: Plan, asOf: Minute): ReadonlyMap<string, Begun> {
  const dates = new DateReader(company.company.timeZone);
  const begun = new Map<string, Omit<Begun, "spans"> & { readonly spans: WorkSpan[] }>();
  const found = standing.tasks.flatMap(({ job, task, crew, start, end }) => {
    const [from, to] = [dates.minuteOf(start), dates.minuteOf(end)];
    return from < asOf ? [{ key: taskKey(job, task), crew, start: from, end: to }] : [];
  });
  for (const { key, ...one } of found.sort((a, b) => a.start - b.start))
    begun.set(key, { ...one, spans: [] });
  if (begun.size === 0) return begun;
  for (const { kind, crew, job, task, start, end } of standing.blocks) {
    const of = kind === "work" && job !== null && task !== null ? begun.get(taskKey(job, task)) : undefined;
    if (of === undefined || job === null || task === null) continue;
    const from = dates.minuteOf(start);
    of.spans.push({ job, task, crew, date: dates.dateOf(from), start: from, end: dates.minuteOf(end) });
  }
  return begun;
}

/** What is worked unit by unit has one name: none of it waits for the rest. */
function listTogether(company: Company): ReadonlyMap<string, string> {
  return new Map(
    company.jobs.flatMap((job) => {
      const chainOf = new Map(
        listChains(job).chains.flatMap(({ tasks }, chain) => tasks.map((task) => [task, chain])),
      );
      return job.tasks.map((task): [string, string] => {
        const chain = chainOf.get(task);
        return [
          taskKey(job.id, task.id),
          chain === undefined ? `${job.id}/${task.id}` : `${job.id} ${chain}`,
        ];
      });
    }),
  );
}

function listTasks(company: Company): readonly TaskOf[] {
  return company.jobs.flatMap((job) => job.tasks.map((task) => ({ job, task })));
}

function isSameProgress(one: Task, other: Task): boolean {
  return (
    one.status === other.status &&
    one.leftHours === other.leftHours &&
    one.doneBy === other.doneBy &&
    one.startedAt === other.startedAt
  );
}

function sumMinutes(spans: readonly WorkSpan[], from: Minute): number {
  return spans.reduce((sum, { start, end }) => sum + Math.max(0, end - Math.max(start, from)), 0);
}

function cutBefore(span: WorkSpan, end: Minute): readonly WorkSpan[] {
  return span.start < end ? [{ ...span, end: Math.min(span.end, end) }] : [];
}
