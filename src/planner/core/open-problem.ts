/**
 * Problems in open time: no shifts, no travel, no light. Crews and equipment are there around the clock. Project
 * scheduling with limited resources, flexible job shops and multi-skill scheduling are all of this kind.
 */
import { DayTable } from "./day-table.js";
import { FOREVER, LIFT, type Activity, type CoreTask, type Problem } from "./problem.js";

export interface OpenTimeTask {
  /** Length for each crew that may work it; empty for a task that takes no crew. */
  readonly crews: readonly { readonly crew: number; readonly minutes: number }[];
  /** Length of a task that takes no crew. */
  readonly fixedMinutes: number;
  readonly equipment: readonly { readonly equipment: number; readonly amount: number }[];
  readonly after: readonly { readonly task: number; readonly lagMinutes: number }[];
  /** Release date: it may not start before. */
  readonly notBefore: number;
}

export interface OpenTimeInput {
  readonly crewCount: number;
  readonly equipmentCount: readonly number[];
  readonly tasks: readonly OpenTimeTask[];
}

/** The problem of finishing all tasks as early as can be. Tasks must not follow each other in a circle. */
export function openProblem({ crewCount, equipmentCount, tasks }: OpenTimeInput): Problem {
  const none = new DayTable(0, 0, () => null);
  const order = sortByPrecedence(tasks);
  const tails = listTails(tasks, order);
  const followers: number[][] = tasks.map(() => []);
  tasks.forEach((task, index) => task.after.forEach((edge) => followers[edge.task]?.push(index)));
  const longest = tasks.map((task) => Math.max(task.fixedMinutes, ...task.crews.map((one) => one.minutes)));
  const lags = tasks.flatMap((task) => task.after.map((edge) => edge.lagMinutes));
  const releases = Math.max(0, ...tasks.map((task) => task.notBefore));
  const horizon = releases + [...longest, ...lags].reduce((sum, minutes) => sum + minutes, 0) + 1;
  return {
    time: "open",
    horizon,
    start: 0,
    dayCount: 0,
    dayStart: { at: () => 0, dayOf: () => 0 },
    crewCount,
    startsAtYard: Array.from({ length: crewCount }, () => false),
    loadMinutes: 0,
    shift: none,
    longestDay: new Int32Array(crewCount),
    breakAfterMinutes: 0,
    breakMinutes: 0,
    stretched: () => false,
    siteCount: 1,
    sharesCrewDays: [true],
    light: none,
    lastLight: none,
    access: none,
    siteDay: () => 0,
    tradeCount: 1,
    outdoor: [false],
    setupMinutes: [0],
    cleanupMinutes: [0],
    coverUpMinutes: 0,
    openNights: 0,
    holds: [new Int32Array(0)],
    windowClass: new Int32Array(1),
    travel: () => 0,
    tasks: tasks.map((task) => toCoreTask(task, crewCount)),
    activities: tasks.map((task, index): Activity => ({
      kind: "task",
      site: 0,
      tasks: [index],
      staffings:
        task.crews.length === 0 ? [Int32Array.of(-1)] : task.crews.map(({ crew }) => Int32Array.of(crew)),
      chain: null,
      after: [...new Set(task.after.map((edge) => edge.task))],
      followers: [...new Set(followers[index])],
      due: FOREVER,
      tailMinutes: tails[index] ?? 0,
      weight: 1,
      rank: -1,
    })),
    activityOf: Int32Array.from(tasks, (_, index) => index),
    equipmentCount,
    prices: { lateDay: 0, idleCrewHour: 0 },
    endOfWait: (_, after) => after,
  };
}

function toCoreTask(task: OpenTimeTask, crewCount: number): CoreTask {
  const minutes = new Int32Array(crewCount).fill(-1);
  for (const one of task.crews) minutes[one.crew] = one.minutes;
  return {
    site: 0,
    trade: task.crews.length === 0 ? -1 : 0,
    minutes,
    fixedMinutes: task.fixedMinutes,
    after: task.after.map((edge) => ({ ...edge, lift: LIFT.afterTask })),
    bounds: task.notBefore > 0 ? [{ minute: task.notBefore, lift: LIFT.notBefore }] : [],
    begun: false,
    startedAt: 0,
    equipment: task.equipment.filter((use) => use.amount > 0),
    waitDays: -1,
  };
}

function sortByPrecedence(tasks: readonly OpenTimeTask[]): readonly number[] {
  const sorted: number[] = [];
  const state = new Uint8Array(tasks.length);
  // A stack of its own: chains of thousands of tasks are deeper than the machine's.
  for (const root of tasks.keys()) {
    const stack = [root];
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const open = state[top] === 0 ? (tasks[top]?.after ?? []).filter((edge) => state[edge.task] === 0) : [];
      if (state[top] === 0) state[top] = 1;
      else {
        stack.pop();
        if (state[top] === 1) sorted.push(top);
        state[top] = 2;
      }
      for (const edge of open) stack.push(edge.task);
    }
  }
  return sorted;
}

/** Length of the longest path from the start of each task to the end of all: the tail of the critical-path method. */
function listTails(tasks: readonly OpenTimeTask[], order: readonly number[]): number[] {
  const shortest = (task: OpenTimeTask): number =>
    task.crews.length === 0 ? task.fixedMinutes : Math.min(...task.crews.map((one) => one.minutes));
  const tails = tasks.map(shortest);
  for (const index of order.toReversed()) {
    for (const { task: before, lagMinutes } of tasks[index]?.after ?? []) {
      const own = tasks[before];
      if (own) tails[before] = Math.max(tails[before] ?? 0, shortest(own) + lagMinutes + (tails[index] ?? 0));
    }
  }
  return tails;
}
