/**
 * A company as an exact model sees it: activities (a task, or a chain of open wall), pieces (what lies in one window or
 * may be split over nights), crews' windows by day. Read from the company file alone, without the planner's compiler.
 * Time is a day (0 = the date on which the plan begins) and a minute after shift start that leaves the meal break out;
 * a point is day · 1440 + minute. A company that says more than this can hold is refused, never simplified.
 */
import type { Company, Crew, Job, Task } from "../../../src/domain/company-schema.js";
import { driveMinutes } from "../../../src/domain/great-circle.js";
import { addDays, civilDate, daysBetween, type CivilDate } from "../../../src/domain/time.js";
import { isBusinessDay } from "../../../src/domain/holidays.js";
import { buildCrewWindows, type CrewWindows } from "./crew-windows.js";
import { refuseWhatIsNotSaid, refuse } from "./what-is-said.js";

export const DAY = 1440;

export interface Piece {
  readonly activity: number;
  /** It may not be split over a night. */
  readonly whole: boolean;
  /** Minutes by crew; 0 where the crew may not work it. */
  readonly minutes: readonly number[];
}

export interface ExactActivity {
  readonly job: number;
  /** In the order in which they are worked; more than one for a chain. */
  readonly tasks: readonly Task[];
  /** Minutes by crew, all pieces; 0 where the crew may not work it. */
  readonly minutes: readonly number[];
  /** Its first piece starts at or after this point. */
  readonly release: number;
  /** Places in `pieces`. */
  readonly pieces: readonly number[];
}

/** A wait ends with a day: the n-th business day after the last of what it follows. */
export interface ExactWait {
  readonly job: number;
  readonly task: Task;
  readonly after: readonly number[];
  /** The day with which it ends, by the day on which what it follows ends. */
  readonly endDay: readonly number[];
}

/** `to` starts at or after `from`'s end plus so many days, at the same time of day; or only on the next date. */
export interface ExactEdge {
  readonly from: number;
  readonly to: number;
  readonly lagDays: number;
  readonly nextDate: boolean;
}

export interface ExactProblem {
  readonly company: Company;
  readonly firstDate: CivilDate;
  readonly dayCount: number;
  readonly activities: readonly ExactActivity[];
  readonly pieces: readonly Piece[];
  readonly waits: readonly ExactWait[];
  readonly edges: readonly ExactEdge[];
  /** An activity (by index) starts on the day after a wait (by index) ends. */
  readonly afterWait: readonly { readonly wait: number; readonly to: number }[];
  readonly windows: CrewWindows;
  readonly setupMinutes: number;
  readonly cleanupMinutes: number;
  /** Between houses; 0 from a house to itself. */
  readonly travel: readonly (readonly number[])[];
  /** Promised dates as days; undefined where none is. */
  readonly promisedDay: readonly (number | undefined)[];
}

/** Builds the exact problem of a company from midnight of a date on; throws what the model cannot say. */
export function buildExactProblem(company: Company, firstDate: CivilDate): ExactProblem {
  const { crews, jobs, policy } = company;
  refuseWhatIsNotSaid(company);
  const dayOf = (date: string): number => daysBetween(firstDate, civilDate(date));
  const activities: ExactActivity[] = [];
  const pieces: Piece[] = [];
  const activityOf = new Map<Task, number>();
  for (const [job, facts] of jobs.entries()) {
    for (const tasks of listGroups(facts)) {
      const index = activities.length;
      for (const task of tasks) activityOf.set(task, index);
      const ways = crews.map((crew) => tasks.map((task) => minutesOf(crew, task)));
      const minutes = ways.map((way) => (way.includes(0) ? 0 : way.reduce((sum, own) => sum + own, 0)));
      const units = tasks.some((task) => task.opens) ? (tasks[0]?.units ?? 1) : 1;
      const own = Array.from({ length: units }, (_, unit): Piece => ({
        activity: index,
        whole: tasks.some((task) => task.opens),
        minutes: ways.map((way) =>
          way.includes(0) ? 0 : way.reduce((sum, all) => sum + shareOf(all, unit, units), 0),
        ),
      }));
      const release = Math.max(0, ...tasks.map((task) => releaseOf(company, facts, task, dayOf)));
      activities.push({ job, tasks, minutes, release, pieces: own.map((_, at) => pieces.length + at) });
      pieces.push(...own);
    }
  }
  const dayCount = countEnoughDays(company, activities);
  const [anyTrade] = company.trades;
  const setupMinutes = anyTrade?.setupMinutes ?? 0;
  const cleanupMinutes = anyTrade?.cleanupMinutes ?? 0;
  const { edges, waits, afterWait } = listOrder(company, activityOf, firstDate, dayCount);
  const windows = buildCrewWindows(company, firstDate, dayCount, setupMinutes, cleanupMinutes);
  const longest = windows.days.map((days) => Math.max(...days.map(({ from, to }) => to - from)));
  return {
    company,
    firstDate,
    dayCount,
    activities: activities.map((one) => withoutShortDays(one, pieces, longest)),
    pieces,
    waits,
    edges,
    afterWait,
    windows,
    setupMinutes,
    cleanupMinutes,
    travel: jobs.map((from) =>
      jobs.map((to) => (from === to ? 0 : driveMinutes(policy, from.site, to.site))),
    ),
    promisedDay: jobs.map((job) => (job.promised === null ? undefined : dayOf(job.promised))),
  };
}

/** What is worked as one: an opener with all up to its closer, or a single task. Waits are left out. */
function listGroups(job: Job): Task[][] {
  const groups: Task[][] = [];
  let chain: Task[] | null = null;
  for (const task of job.tasks) {
    if (task.trade === null) continue;
    if (chain) chain.push(task);
    else groups.push(task.opens ? (chain = [task]) : [task]);
    if (task.closes) chain = null;
  }
  return groups;
}

/** A crew for whose longest window a unit is too long may not work the chain. */
function withoutShortDays(
  activity: ExactActivity,
  pieces: readonly Piece[],
  longest: readonly number[],
): ExactActivity {
  const minutes = activity.minutes.map((own, crew) => {
    const tooLong = activity.pieces.some((piece) => {
      const { whole = false, minutes: lengths = [] } = pieces[piece] ?? {};
      return whole && (lengths[crew] ?? 0) > (longest[crew] ?? 0);
    });
    return tooLong ? 0 : own;
  });
  if (minutes.every((own) => own === 0)) refuse(`"${activity.tasks[0]?.id ?? ""}", which no crew can work`);
  return { ...activity, minutes };
}

/** Reading 11; 0 where the crew may not work the task. */
export function minutesOf(crew: Crew, task: Task): number {
  const pace = task.trade === null ? undefined : crew.trades[task.trade];
  if (pace === undefined || crew.size < task.minCrew) return 0;
  if (task.crew !== null && task.crew !== crew.id) return 0;
  return Math.ceil(((task.laborHours ?? 0) * 60) / (crew.size * pace) - 1e-9);
}

/** Reading 13, with nothing done yet: a unit's part of a chain task. */
export function shareOf(minutes: number, unit: number, units: number): number {
  const upTo = (count: number): number => Math.floor((minutes * count) / units + 1e-9);
  return upTo(unit + 1) - upTo(unit);
}

/** Readings 17: deliveries and `notBefore` open with a date. */
function releaseOf({ policy }: Company, job: Job, task: Task, dayOf: (date: string) => number): number {
  const usable = task.needs.map((id) => {
    const delivery = job.deliveries.find((known) => known.id === id);
    return delivery && !delivery.received
      ? dayOf(addDays(civilDate(delivery.expected), policy.deliveryBufferDays))
      : 0;
  });
  const notBefore = task.notBefore === null ? 0 : dayOf(task.notBefore.slice(0, 10));
  return Math.max(notBefore, ...usable) * DAY;
}

function listOrder(
  company: Company,
  activityOf: ReadonlyMap<Task, number>,
  firstDate: CivilDate,
  dayCount: number,
): Pick<ExactProblem, "edges" | "waits" | "afterWait"> {
  const edges: ExactEdge[] = [];
  const waits: ExactWait[] = [];
  const afterWait: { wait: number; to: number }[] = [];
  for (const [job, facts] of company.jobs.entries()) {
    const waitOf = new Map<Task, number>();
    for (const task of facts.tasks.filter((one) => one.trade === null)) {
      waitOf.set(task, waits.length);
      const after = task.after.map(({ task: id }) => {
        const before = facts.tasks.find((other) => other.id === id);
        return (before && activityOf.get(before)) ?? refuse(`a wait after "${id}"`);
      });
      const endDay = Array.from({ length: dayCount }, (_, day) =>
        waitEnd(company, firstDate, day, task.waitBusinessDays ?? 0),
      );
      waits.push({ job, task, after, endDay });
    }
    for (const task of facts.tasks.filter((one) => one.trade !== null)) {
      const to = activityOf.get(task) ?? refuse(`"${task.id}" outside every activity`);
      for (const { task: id, lagHours } of task.after) {
        const before = facts.tasks.find((other) => other.id === id);
        const wait = before && waitOf.get(before);
        const from = before && activityOf.get(before);
        if (from === to) continue;
        if (wait !== undefined) afterWait.push({ wait, to });
        else if (from !== undefined)
          edges.push({ from, to, lagDays: Math.floor(lagHours / 24), nextDate: lagHours === 12 });
        else refuse(`"${task.id}" after "${id}"`);
      }
    }
  }
  return { edges, waits, afterWait };
}

/** Reading 16, for what ends in the course of a day. */
function waitEnd(company: Company, firstDate: CivilDate, day: number, businessDays: number): number {
  let end = day;
  for (let left = businessDays; left > 0;) {
    end += 1;
    if (isBusinessDay(addDays(firstDate, end), company.company.timeZone)) left -= 1;
  }
  return end;
}

/** No prompt plan is longer: one activity after another on its slowest crew, and each day that is lost added. */
function countEnoughDays(company: Company, activities: readonly ExactActivity[]): number {
  const daysOff = company.crews.flatMap((crew) =>
    crew.off.map((off) => daysBetween(civilDate(off.from), civilDate(off.to)) + 1),
  );
  const lost = daysOff.reduce((sum, days) => sum + days, company.holds.length);
  const worked = activities.reduce(
    (sum, { minutes, pieces }) => sum + Math.max(Math.ceil(Math.max(...minutes) / 240), pieces.length) + 1,
    0,
  );
  const waited = company.jobs
    .flatMap((job) => job.tasks)
    .reduce((sum, task) => {
      const lagDays = Math.max(0, ...task.after.map((edge) => edge.lagHours / 24));
      return sum + (task.waitBusinessDays ?? 0) * 2 + lagDays;
    }, 0);
  const released = Math.max(...activities.map(({ release }) => release / DAY));
  return Math.ceil((worked + lost) * 1.4 + waited + released + 7);
}
