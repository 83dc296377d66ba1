/**
 * The only bridge between a company file and the engine: company, light and holds in; a problem of small integers out,
 * and the way back from its numbers to jobs, tasks and crews.
 */
import { zoneOfJob, type Company, type Job, type Task } from "../../domain/company-schema.js";
import { driveMinutes } from "../../domain/great-circle.js";
import { endOfBusinessWait } from "../../domain/holidays.js";
import { addDays, civilDate, civilDateAt, dayStart, parseInstant, type Minute } from "../../domain/time.js";
import {
  FOREVER,
  LIFT,
  NEVER,
  type Bound,
  type CoreEdge,
  type CoreTask,
  type Problem,
} from "../core/problem.js";
import { buildActivities, type Impossible, type OpenTask } from "./activities.js";
import { listChains } from "./chains.js";
import {
  accessTable,
  daysOfJobs,
  holdTable,
  lightTables,
  longestDays,
  shiftTable,
  windowClasses,
} from "./calendars.js";
import { beganAt, listPromises, type PublishedPromise } from "./promises.js";
import { needsCrew, Roster } from "./staffing.js";
import { ZoneDays } from "./zone-days.js";

/** Minutes that a crew loads at the yard before it drives out (planning model, rule 9). */
export const LOAD_MINUTES = 15;

export interface Compiled {
  readonly company: Company;
  readonly problem: Problem;
  readonly open: readonly OpenTask[];
  readonly impossible: readonly Impossible[];
  readonly promises: readonly PublishedPromise[];
  readonly days: ZoneDays;
  readonly daysOfJob: readonly ZoneDays[];
}

/** Builds the problem of planning a company from a minute on, over a number of days. */
export function compile(company: Company, asOf: Minute, dayCount: number): Compiled {
  const { policy, crews, trades, jobs } = company;
  const zone = company.company.timeZone;
  const firstDate = addDays(civilDateAt(asOf, zone), -1);
  const days = new ZoneDays(zone, firstDate);
  const daysOfJob = daysOfJobs(company, days, (other) => new ZoneDays(other, firstDate));
  const promises = listPromises(company, asOf);
  const pins = new Map<string, PublishedPromise>();
  for (const promise of promises)
    if (!pins.has(key(promise.job, promise.task))) pins.set(key(promise.job, promise.task), promise);
  const roster = new Roster(company);
  const ranks = rankTasks(company, asOf, promises);
  const { open, activities, activityOf, impossible } = buildActivities(
    company,
    roster,
    (task) => ranks.get(task) ?? -1,
    (job, task) => {
      const pin = pins.get(key(job.id, task.id));
      return pin ? crews.findIndex((crew) => crew.id === pin.crew) : -1;
    },
  );
  const indexOf = new Map(open.map((one) => [one.task, one.index]));
  const tradeIndex = new Map(trades.map((trade, index) => [trade.id, index]));
  const equipmentIndex = new Map(company.equipment.map((item, index) => [item.id, index]));
  const stretched = crews.map((crew) => new Set(crew.stretch));
  const yard = company.company.yard;
  const drives = new Map<number, number>();
  const placeOf = (site: number) => (site === jobs.length ? yard : jobs[site]?.site) ?? { lat: 0, lon: 0 };

  const holds = holdTable(company);
  const problem: Problem = {
    time: "days",
    horizon: FOREVER,
    start: asOf,
    dayCount,
    dayStart: days,
    crewCount: crews.length,
    startsAtYard: crews.map((crew) => crew.startsAt === "yard"),
    loadMinutes: LOAD_MINUTES,
    shift: shiftTable(company, days, dayCount),
    longestDay: longestDays(company),
    breakAfterMinutes: Math.round(policy.breakAfterHours * 60),
    breakMinutes: policy.breakMinutes,
    stretched: (crew, day) =>
      (stretched[crew]?.size ?? 0) > 0 && stretched[crew]?.has(days.date(day)) === true,
    siteCount: jobs.length,
    sharesCrewDays: daysOfJob.map((own) => own === days),
    ...lightTables(company, daysOfJob, dayCount),
    access: accessTable(company, daysOfJob, dayCount),
    siteDay: (site, minute) => daysOfJob[site]?.dayOf(minute) ?? 0,
    tradeCount: trades.length,
    outdoor: trades.map((trade) => trade.outdoor),
    setupMinutes: trades.map((trade) => trade.setupMinutes),
    cleanupMinutes: trades.map((trade) => trade.cleanupMinutes),
    coverUpMinutes: policy.coverUpMinutes,
    openNights: policy.openNights,
    holds,
    windowClass: windowClasses(company, holds),
    travel: (from, to) => {
      if (from === to) return 0;
      const at = from * (jobs.length + 1) + to;
      const known = drives.get(at) ?? driveMinutes(policy, placeOf(from), placeOf(to));
      drives.set(at, known);
      return known;
    },
    tasks: open.map(({ job, jobIndex, task }): CoreTask => {
      const { after, bounds } = listOrder(company, job, task, indexOf);
      const pin = pins.get(key(job.id, task.id));
      if (pin) bounds.push({ minute: dayStart(pin.date, zone), lift: LIFT.published });
      return {
        site: jobIndex,
        trade: needsCrew(task) ? (tradeIndex.get(task.trade ?? "") ?? -1) : -1,
        minutes: roster.lengthsOf(task),
        after,
        bounds,
        fixedMinutes: 0,
        begun: task.status === "under-way",
        startedAt: beganAt(company, job, task, asOf),
        equipment: Object.entries(task.equipment).map(([id, amount]) => ({
          equipment: equipmentIndex.get(id) ?? -1,
          amount,
        })),
        waitDays: task.trade === null ? (task.waitBusinessDays ?? 0) : -1,
      };
    }),
    activities,
    activityOf,
    equipmentCount: company.equipment.map((item) => item.count),
    prices: { lateDay: policy.cost.lateDay, idleCrewHour: policy.cost.idleCrewHour },
    endOfWait: (index, after) => {
      const one = open[index];
      if (!one) return after;
      return endOfBusinessWait(after, one.task.waitBusinessDays ?? 0, zoneOfJob(company, one.job), zone);
    },
  };
  return { company, problem, open, impossible, promises, days, daysOfJob };
}

const key = (job: string, task: string): string => `${job}/${task}`;

/**
 * Places of what comes before everything else: under way by its start (a chain that crews share last, so that none of
 * them leaves its own work for it), then standing open, then published by its start.
 */
function rankTasks(
  company: Company,
  asOf: Minute,
  promises: readonly PublishedPromise[],
): ReadonlyMap<Task, number> {
  const chains = company.jobs.flatMap((job) => listChains(job).chains);
  const shared = new Set(company.policy.openNights > 0 ? chains.flatMap((chain) => chain.tasks) : []);
  const begun = company.jobs
    .flatMap((job) =>
      job.tasks
        .filter((task) => task.status === "under-way")
        .map((task) => ({ task, at: beganAt(company, job, task, asOf) })),
    )
    .sort((a, b) => Number(shared.has(a.task)) - Number(shared.has(b.task)) || a.at - b.at);
  const ranks = new Map(begun.map(({ task }, index) => [task, index]));
  const standingOpen = chains.filter(({ tasks }) =>
    tasks.some((task) => task.opens && task.status === "done"),
  );
  for (const task of standingOpen.flatMap((chain) => chain.tasks)) {
    if (task.status === "to-do" && !ranks.has(task)) ranks.set(task, ranks.size);
  }
  for (const promise of promises) {
    const task = company.jobs
      .find((job) => job.id === promise.job)
      ?.tasks.find((known) => known.id === promise.task);
    if (task && !ranks.has(task)) ranks.set(task, ranks.size);
  }
  return ranks;
}

/** What a task follows: open tasks as edges, done ones as fixed minutes; and its gates. */
function listOrder(
  company: Company,
  job: Job,
  task: Task,
  indexOf: ReadonlyMap<Task, number>,
): { after: CoreEdge[]; bounds: Bound[] } {
  const zone = zoneOfJob(company, job);
  const after: CoreEdge[] = [];
  const bounds: Bound[] = [];
  for (const { task: id, lagHours } of task.after) {
    const before = job.tasks.find((other) => other.id === id);
    const lagMinutes = Math.ceil(lagHours * 60);
    const lift = before?.trade === null ? LIFT.wait : LIFT.afterTask;
    const index = before && indexOf.get(before);
    if (index !== undefined) after.push({ task: index, lagMinutes, lift });
    else if (before?.finishedAt) {
      const finished = parseInstant(before.finishedAt, zone) ?? NEVER;
      bounds.push({ minute: finished, lift }, { minute: finished + lagMinutes, lift: LIFT.curing });
    }
  }
  if (task.notBefore !== null)
    bounds.push({ minute: parseInstant(task.notBefore, zone) ?? NEVER, lift: LIFT.notBefore });
  for (const id of task.needs) {
    const delivery = job.deliveries.find((known) => known.id === id);
    if (!delivery || delivery.received) continue;
    const usable = addDays(civilDate(delivery.expected), company.policy.deliveryBufferDays);
    bounds.push({ minute: dayStart(usable, zone), lift: LIFT.delivery });
  }
  return { after, bounds };
}
