/**
 * From jobs to activities: what is decoded in one step, who may staff it, what comes before it, and what can never be.
 */
import { zoneOfJob, type Company, type Job, type Task } from "../../domain/company-schema.js";
import { addDays, civilDate, dayStart, type Minute } from "../../domain/time.js";
import { FOREVER, type Activity, type Chain } from "../core/problem.js";
import { listChains, sortByPrecedence, type TaskChain } from "./chains.js";
import { hoursLeft, needsCrew, whyNobody, whyNobodyForChain, type Roster } from "./staffing.js";

/** An open task, with the number that the engine knows it by. */
export interface OpenTask {
  readonly index: number;
  readonly job: Job;
  readonly jobIndex: number;
  readonly task: Task;
}

export interface Impossible {
  readonly job: Job;
  readonly task: Task;
  readonly why: string;
}

/** A group of tasks before it is known whether and by whom it can be worked. */
interface Group {
  readonly job: Job;
  readonly jobIndex: number;
  /** Open tasks, in order. */
  readonly tasks: readonly Task[];
  readonly chain: TaskChain | null;
  readonly staffings: readonly Int32Array[];
  why: string | null;
}

export interface BuiltActivities {
  readonly open: readonly OpenTask[];
  readonly activities: readonly Activity[];
  readonly activityOf: Int32Array;
  readonly impossible: readonly Impossible[];
}

/** `rankOf` gives the place of a task that comes before everything else, or −1; `pinOf` the crew index it must keep. */
export function buildActivities(
  company: Company,
  roster: Roster,
  rankOf: (task: Task) => number,
  pinOf: (job: Job, task: Task) => number,
): BuiltActivities {
  const groups = company.jobs.flatMap((job, jobIndex) => listGroups(company, roster, job, jobIndex));
  spreadImpossible(groups);
  const possible = groups.filter((group) => group.why === null);
  const open: OpenTask[] = [];
  const indexOf = new Map<Task, number>();
  for (const { job, jobIndex, tasks } of possible) {
    for (const task of tasks) {
      indexOf.set(task, open.length);
      open.push({ index: open.length, job, jobIndex, task });
    }
  }
  const activityOf = new Int32Array(open.length);
  possible.forEach((group, activity) => {
    for (const task of group.tasks) activityOf[indexOf.get(task) ?? -1] = activity;
  });
  const befores = possible.map((group, activity) => listBefore(group, activity, indexOf, activityOf));
  const followers: number[][] = possible.map(() => []);
  befores.forEach((before, activity) => before.forEach((earlier) => followers[earlier]?.push(activity)));
  const tails = listTails(company, possible, befores);
  const dues = company.jobs.map((job) => dueOf(company, job));
  const activities = possible.map((group, activity): Activity => {
    const ranks = group.tasks.map((task) => rankOf(task)).filter((rank) => rank >= 0);
    return {
      kind: group.chain ? "chain" : group.tasks.some(needsCrew) ? "task" : "wait",
      site: group.jobIndex,
      tasks: group.tasks.map((task) => indexOf.get(task) ?? -1),
      staffings: pinned(group, pinOf),
      chain: group.chain ? buildChain(company, group.chain, group.tasks) : null,
      after: befores[activity] ?? [],
      followers: followers[activity] ?? [],
      due: dues[group.jobIndex] ?? FOREVER,
      tailMinutes: tails[activity] ?? 0,
      weight: group.job.weight,
      rank: ranks.length > 0 ? Math.min(...ranks) : -1,
    };
  });
  const impossible = groups.flatMap(({ job, tasks, why }) =>
    why === null ? [] : tasks.map((task) => ({ job, task, why })),
  );
  return { open, activities, activityOf, impossible };
}

function listGroups(company: Company, roster: Roster, job: Job, jobIndex: number): Group[] {
  const { chains, neverClosed } = listChains(job);
  const chainOf = new Map<Task, TaskChain>(
    chains.flatMap((chain) => chain.tasks.map((task) => [task, chain] as const)),
  );
  const groups: Group[] = [];
  const taken = new Set<Task>();
  for (const first of sortByPrecedence(job.tasks)) {
    if (first.status === "done" || taken.has(first)) continue;
    const chain = chainOf.get(first) ?? null;
    const tasks = chain ? chain.tasks.filter((task) => task.status !== "done") : [first];
    for (const task of tasks) taken.add(task);
    const oneCrew = chain === null || company.policy.openNights === 0;
    const staffings = roster.listStaffings(tasks, oneCrew);
    const group: Group = { job, jobIndex, tasks, chain, staffings, why: null };
    group.why = neverClosed.includes(first)
      ? `It opens the wall, but no task of the same area that comes after it closes it. Mark the task that closes it.`
      : whyUnstaffed(company, group);
    groups.push(group);
  }
  return groups;
}

function whyUnstaffed(company: Company, group: Group): string | null {
  if (group.chain && company.policy.openNights === 0) {
    const wait = group.tasks.find((task) => task.trade === null && (task.waitBusinessDays ?? 0) > 0);
    if (wait) {
      return `The wall would stand open while "${wait.title}" takes ${wait.waitBusinessDays ?? 0} business days, and open nights are not allowed. Let it come before the wall is opened or after it is closed.`;
    }
  }
  if (!group.tasks.some(needsCrew) || group.staffings.length > 0) return null;
  const [only] = group.tasks;
  if (group.chain === null && only) return whyNobody(company, only);
  return whyNobodyForChain(company, group.tasks, company.policy.openNights === 0);
}

/** What follows something impossible is impossible, and so are chains that wait for each other. */
function spreadImpossible(groups: readonly Group[]): void {
  const groupOf = new Map<Task, Group>(
    groups.flatMap((group) => group.tasks.map((task) => [task, group] as const)),
  );
  const state = new Map<Group, "open" | "checked">();
  const visit = (group: Group): void => {
    if (state.get(group) === "checked") return;
    state.set(group, "open");
    for (const task of group.tasks) {
      for (const { task: id } of task.status === "under-way" ? [] : task.after) {
        const before = group.job.tasks.find((other) => other.id === id);
        const earlier = before && groupOf.get(before);
        if (!before || !earlier || earlier === group) continue;
        if (state.get(earlier) === "open")
          group.why ??= `Its open wall and that of "${before.title}" wait for each other.`;
        else visit(earlier);
        if (earlier.why !== null) group.why ??= whyFollows(before);
      }
    }
    state.set(group, "checked");
  };
  groups.forEach(visit);
}

/** The sentence for a task that comes after one that cannot be planned. */
export function whyFollows(before: Task): string {
  return `It comes after "${before.title}", which cannot be planned.`;
}

function pinned(group: Group, pinOf: (job: Job, task: Task) => number): readonly Int32Array[] {
  const { staffings } = group;
  const pins = group.tasks.map((task) => pinOf(group.job, task));
  if (pins.every((pin) => pin < 0)) return staffings;
  const kept = staffings.filter((crews) => pins.every((pin, place) => pin < 0 || crews[place] === pin));
  return kept.length > 0 ? kept : staffings;
}

function listBefore(
  group: Group,
  own: number,
  indexOf: ReadonlyMap<Task, number>,
  activityOf: Int32Array,
): number[] {
  const before = new Set<number>();
  for (const task of group.tasks) {
    if (task.status === "under-way") continue;
    for (const { task: id } of task.after) {
      const earlier = group.job.tasks.find((other) => other.id === id);
      const index = earlier && indexOf.get(earlier);
      const activity = index === undefined ? undefined : activityOf[index];
      if (activity !== undefined && activity !== own) before.add(activity);
    }
  }
  return [...before].sort((a, b) => a - b);
}

function buildChain(company: Company, chain: TaskChain, open: readonly Task[]): Chain {
  const { units } = chain;
  const hoursBefore = open.map((task) => {
    const left = hoursLeft(task);
    const share = Math.max(task.laborHours ?? 0, left) / units;
    return Float64Array.from({ length: units + 1 }, (_, unit) => Math.max(0, left - (units - unit) * share));
  });
  const hasWork = (unit: number): boolean =>
    hoursBefore.some((before) => (before[unit + 1] ?? 0) > (before[unit] ?? 0));
  let firstUnit = 0;
  while (firstUnit < units - 1 && !hasWork(firstUnit)) firstUnit++;
  const openerLeft = (unit: number, task: Task): boolean => {
    const place = open.indexOf(task);
    const before = hoursBefore[place];
    if (!before) return false;
    const share = Math.max(task.laborHours ?? 0, hoursLeft(task)) / units;
    return (before[unit + 1] ?? 0) - (before[unit] ?? 0) >= share - 1e-9;
  };
  const openers = chain.tasks.filter((task) => task.opens);
  const inner = open.flatMap((task, to) =>
    task.after.flatMap(({ task: id, lagHours }) => {
      const from = open.findIndex((other) => other.id === id);
      return from < 0 ? [] : [{ from, to, lagMinutes: Math.ceil(lagHours * 60) }];
    }),
  );
  return {
    firstUnit,
    unitCount: units,
    hoursBefore,
    opener: open.map((task) => task.opens),
    closer: open.map((task) => task.closes),
    inner,
    lags: open.map((_, place) => inner.filter((edge) => edge.to === place && edge.lagMinutes > 0)),
    trades: company.trades.flatMap(({ id }, index) =>
      open.some((task) => task.trade === id && needsCrew(task)) ? [index] : [],
    ),
    openAtStart: Array.from({ length: units }, (_, unit) => openers.some((task) => !openerLeft(unit, task))),
  };
}

function dueOf(company: Company, job: Job): Minute {
  return job.promised === null
    ? FOREVER
    : dayStart(addDays(civilDate(job.promised), 1), zoneOfJob(company, job));
}

/** Longest path behind each activity inside its job, as elapsed minutes: about a third of a day is worked. */
function listTails(
  company: Company,
  groups: readonly Group[],
  befores: readonly (readonly number[])[],
): number[] {
  const people = company.crews.reduce((sum, crew) => sum + crew.size, 0) / Math.max(1, company.crews.length);
  const elapsed = groups.map(({ tasks }) => {
    const hours = tasks.reduce((sum, task) => sum + hoursLeft(task), 0);
    const waits = tasks.reduce((sum, task) => sum + (task.waitBusinessDays ?? 0), 0);
    const lags = Math.max(0, ...tasks.flatMap((task) => task.after.map((edge) => edge.lagHours)));
    return Math.round((hours / people) * 60 * 3 + waits * 1440 + lags * 60);
  });
  const tails = groups.map(() => 0);
  for (let index = groups.length - 1; index >= 0; index--) {
    for (const before of befores[index] ?? []) {
      tails[before] = Math.max(tails[before] ?? 0, (tails[index] ?? 0) + (elapsed[index] ?? 0));
    }
  }
  return tails.map((tail, index) => tail + (elapsed[index] ?? 0));
}
