/**
 * A company and its plan, indexed once for every page: houses, tasks and crews by name, blocks by crew and date.
 * Times become whole minutes here, so that no view parses text. Nothing is decided; a view asks and words it.
 * A crew's day is a date of the company's zone; a block's wall clock is that of its house.
 */
import type { BlockKind, Company, Crew, Job, Task, Trade } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import type { Because, Plan, PlanDay } from "../domain/plan-format.js";
import { present } from "../domain/result.js";
import { addDays, civilDateAt, dayStart, parseInstant, type CivilDate, type Minute } from "../domain/time.js";

/** One stretch of a crew's day; consecutive work on one task is one block, with its units taken together. */
export interface DayBlock {
  readonly crew: string;
  readonly kind: BlockKind;
  readonly job: Job | null;
  readonly task: Task | null;
  readonly units: readonly [number, number] | null;
  readonly start: Minute;
  readonly end: Minute;
  /** The zone whose wall clock this block is read by. */
  readonly zone: string;
}

/** What the plan says of one open task. */
export interface PlannedTask {
  readonly crew: Crew | null;
  readonly start: Minute;
  readonly end: Minute;
  readonly because: Because;
}

export interface Reading {
  readonly company: Company;
  readonly plan: Plan;
  /** The company's zone, by which crew-days are dated. */
  readonly zone: string;
  readonly jobs: ReadonlyMap<string, Job>;
  readonly crews: ReadonlyMap<string, Crew>;
  readonly trades: ReadonlyMap<string, Trade>;
  /** Blocks of one crew on one date, in order; empty where it is not called out. */
  dayOf(crew: string, date: CivilDate): readonly DayBlock[];
  /** The dates on which a crew has any block, in order. */
  datesOf(crew: string): readonly CivilDate[];
  /** The plan's figures for a crew, date and house. */
  lightOf(crew: string, date: CivilDate, job: string): PlanDay | undefined;
  task(job: string, task: string): Task | undefined;
  planned(job: string, task: string): PlannedTask | undefined;
  /** Why a task is in no plan, where it is impossible. */
  impossible(job: string, task: string): string | undefined;
}

const key = (first: string, second: string): string => `${first}\n${second}`;

/** Indexes a plan against the company that it was made for. */
export function buildReading(company: Company, plan: Plan): Reading {
  const zone = company.company.timeZone;
  const jobs = new Map(company.jobs.map((job) => [job.id, job]));
  const crews = new Map(company.crews.map((crew) => [crew.id, crew]));
  const tasks = new Map(
    company.jobs.flatMap((job) => job.tasks.map((task) => [key(job.id, task.id), task] as const)),
  );
  const planned = new Map(
    plan.tasks.map((task) => [
      key(task.job, task.task),
      {
        crew: task.crew === null ? null : (crews.get(task.crew) ?? null),
        start: instantOf(task.start, zone),
        end: instantOf(task.end, zone),
        because: task.because,
      },
    ]),
  );
  const impossible = new Map(plan.impossible.map((item) => [key(item.job, item.task), item.why]));
  const lights = new Map(plan.days.map((day) => [key(key(day.crew, day.date), day.job), day]));
  const { days, dates } = groupByDay(company, plan, jobs, tasks);

  return {
    company,
    plan,
    zone,
    jobs,
    crews,
    trades: new Map(company.trades.map((trade) => [trade.id, trade])),
    dayOf: (crew, date) => days.get(key(crew, date)) ?? [],
    datesOf: (crew) => dates.get(crew) ?? [],
    lightOf: (crew, date, job) => lights.get(key(key(crew, date), job)),
    task: (job, task) => tasks.get(key(job, task)),
    planned: (job, task) => planned.get(key(job, task)),
    impossible: (job, task) => impossible.get(key(job, task)),
  };
}

/** An instant out of a plan, which has passed its schema. */
export function instantOf(text: string, zone: string): Minute {
  return present(parseInstant(text, zone), `the time in "${text}"`);
}

/** Where a crew works or sets up in these blocks, each house once, in order. */
export function listHouses(blocks: readonly DayBlock[]): readonly Job[] {
  const worked = blocks.filter((block) => block.kind === "work" || block.kind === "setup");
  return [...new Set(worked.flatMap((block) => (block.job === null ? [] : [block.job])))];
}

function groupByDay(
  company: Company,
  plan: Plan,
  jobs: ReadonlyMap<string, Job>,
  tasks: ReadonlyMap<string, Task>,
): {
  readonly days: ReadonlyMap<string, readonly DayBlock[]>;
  readonly dates: ReadonlyMap<string, readonly CivilDate[]>;
} {
  const zone = company.company.timeZone;
  const blocks = plan.blocks.map((block): DayBlock => {
    const job = block.job === null ? null : (jobs.get(block.job) ?? null);
    return {
      crew: block.crew,
      kind: block.kind,
      job,
      task: job === null || block.task === null ? null : (tasks.get(key(job.id, block.task)) ?? null),
      units: block.units,
      start: instantOf(block.start, zone),
      end: instantOf(block.end, zone),
      zone: job === null ? zone : zoneOfJob(company, job),
    };
  });
  const days = new Map<string, DayBlock[]>();
  const dates = new Map<string, CivilDate[]>();
  // In order of time many blocks have the same date: the calendar is asked once for each.
  let date: CivilDate | undefined;
  let dateEnd = -Infinity;
  for (const block of blocks.sort((a, b) => a.start - b.start || a.end - b.end)) {
    if (date === undefined || block.start >= dateEnd) {
      date = civilDateAt(block.start, zone);
      dateEnd = dayStart(addDays(date, 1), zone);
    }
    const day = key(block.crew, date);
    const list = days.get(day);
    const last = list?.at(-1);
    if (list === undefined || last === undefined) {
      days.set(day, [block]);
      dates.set(block.crew, [...(dates.get(block.crew) ?? []), date]);
    } else if (continues(last, block)) list[list.length - 1] = joined(last, block);
    else list.push(block);
  }
  return { days, dates };
}

function continues(before: DayBlock, after: DayBlock): boolean {
  return (
    before.kind === "work" &&
    after.kind === "work" &&
    before.end === after.start &&
    before.job === after.job &&
    before.task === after.task
  );
}

function joined(before: DayBlock, after: DayBlock): DayBlock {
  const units =
    before.units === null || after.units === null
      ? null
      : ([Math.min(before.units[0], after.units[0]), Math.max(before.units[1], after.units[1])] as const);
  return { ...before, units, end: after.end };
}
