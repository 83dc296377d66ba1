/** The tasks of one random house: work, waits and open-wall chains, the first of them done, perhaps one under way. */
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { addDays, toIso, type CivilDate } from "../../src/domain/time.js";
import type { CompanyChoices, JobChoice, StepChoice } from "./company-choices.js";

type CrewInput = CompanyInput["crews"][number];
type JobInput = NonNullable<CompanyInput["jobs"]>[number];
export type TaskInput = NonNullable<JobInput["tasks"]>[number];

const MOST_TASKS = 8;
/** Longer than the longest lag and the longest time that work is under way together. */
const HOURS_BETWEEN_DONE = 72;
const CHAINS: readonly (readonly string[])[] = [
  ["tear-off", "windows"],
  ["tear-off", "wrb", "windows"],
  ["tear-off", "sheathing", "wrb", "windows"],
];
const AREAS = ["front", "left", "back", "right", "entry", "dormer"];

interface Surroundings {
  readonly choices: CompanyChoices;
  readonly crews: readonly CrewInput[];
  readonly today: CivilDate;
  /** Crews with a task under way; grows. */
  readonly busy: Set<string>;
  /** Lifts that no task under way holds; falls. */
  readonly liftsLeft: { count: number };
}

/** The tasks in an order in which each comes after all that it follows, and the deliveries that must have come. */
export function listTasks(
  job: JobChoice,
  around: Surroundings,
): { tasks: TaskInput[]; delivered: Set<string> } {
  const tasks: TaskInput[] = [];
  job.steps.forEach((step, index) => tasks.push(...tasksOf(step, index, tasks, job, around)));
  const delivered = new Set<string>();
  const done = Math.min(job.doneTasks, tasks.length);
  const underWay = job.isUnderWay ? beginTask(tasks[done], job, around) : undefined;
  tasks.slice(0, done).forEach((task, index) => {
    const lastEnd = around.choices.asOf - (underWay ? HOURS_BETWEEN_DONE : job.hoursAgo) * 60;
    const end = lastEnd - (done - 1 - index) * HOURS_BETWEEN_DONE * 60;
    Object.assign(task, {
      status: "done",
      startedAt: toIso(end - 120, "UTC"),
      finishedAt: toIso(end, "UTC"),
      doneBy: crewsWith(around.crews, [task.trade])[0]?.id ?? null,
    } satisfies Partial<TaskInput>);
  });
  for (const task of tasks.slice(0, underWay ? done + 1 : done)) {
    task.notBefore = null;
    for (const id of task.needs ?? []) delivered.add(id);
  }
  return { tasks, delivered };
}

function tasksOf(
  step: StepChoice,
  index: number,
  before: readonly TaskInput[],
  job: JobChoice,
  around: Surroundings,
): TaskInput[] {
  const chain = CHAINS[Math.min(step.chainLength, MOST_TASKS - before.length) - 2];
  const number = before.length + 1;
  const gates = {
    after: afterFrom(step, before) ?? [],
    notBefore: step.notBeforeDay === null ? null : addDays(around.today, step.notBeforeDay),
    needs: step.needsPick === null ? [] : job.deliveries.map((_, nth) => `d${nth + 1}`).slice(step.needsPick),
  };
  if (before.length >= MOST_TASKS) return [];
  if (step.kind === "wait") {
    return [
      { id: `t${number}`, trade: null, title: "Inspection", waitBusinessDays: step.businessDays, ...gates },
    ];
  }
  if (step.kind === "chain" && chain && chain.every((trade) => crewsWith(around.crews, [trade]).length > 0)) {
    return chain.map((trade, nth) => ({
      ...workOn(trade, `t${number + nth}`, step, around),
      area: present(AREAS[index], "an area for each step"),
      units: step.units,
      opens: nth === 0,
      closes: nth === chain.length - 1,
      // A chain's crew is chosen for the whole of it; its windows may come late.
      crew: null,
      after: nth === 0 ? gates.after : [{ task: `t${number + nth - 1}` }],
      notBefore: nth === 0 ? gates.notBefore : null,
      needs: nth === chain.length - 1 ? gates.needs : [],
    }));
  }
  const trades = [...new Set(around.crews.flatMap((crew) => Object.keys(crew.trades)))];
  const trade = present(trades[step.tradePick % trades.length], "a trade that some crew has");
  return [{ ...workOn(trade, `t${number}`, step, around), units: step.units, ...gates }];
}

function workOn(trade: string, id: string, step: StepChoice, around: Surroundings): TaskInput {
  const able = crewsWith(around.crews, [trade]);
  const strongest = Math.max(...able.map((crew) => crew.size));
  // Now and then any crew is named, even one that cannot do the task: the planner must say so.
  const nameable = step.isAnyCrewNamed ? around.crews : able;
  const named = step.crewPick === null ? undefined : nameable[step.crewPick % nameable.length];
  return {
    id,
    trade,
    title: `${trade} ${id}`,
    laborHours: step.quarterHours / 4,
    minCrew: 1 + (step.minCrewPick % strongest),
    crew: named?.id ?? null,
    equipment: step.needsLift ? { lift: 1 } : {},
  };
}

function afterFrom(step: StepChoice, before: readonly TaskInput[]): TaskInput["after"] {
  if (before.length === 0) return [];
  const ids = step.afterPicks.map((pick) => present(before[pick % before.length], "an earlier task").id);
  return [...new Set(ids)].map((task) => ({ task, lagHours: step.lagHours }));
}

/** Puts a task under way with a crew that can do it and is free; undefined where there is none. */
function beginTask(task: TaskInput | undefined, job: JobChoice, around: Surroundings): TaskInput | undefined {
  if (task === undefined || task.laborHours === 0) return undefined;
  const startedAt = toIso(around.choices.asOf - job.hoursAgo * 60, "UTC");
  if (task.trade === null)
    return Object.assign(task, { status: "under-way", startedAt } satisfies Partial<TaskInput>);
  const lifts = task.equipment?.["lift"] ?? 0;
  const needed = task.opens || task.closes || task.area !== undefined ? (CHAINS.at(-1) ?? []) : [task.trade];
  const crew = crewsWith(around.crews, needed).find(
    ({ id, size }) => !around.busy.has(id) && size >= (task.minCrew ?? 1) && (task.crew ?? id) === id,
  );
  if (crew === undefined || lifts > around.liftsLeft.count) return undefined;
  around.busy.add(crew.id);
  around.liftsLeft.count -= lifts;
  const left = job.leftQuarterHours;
  return Object.assign(task, {
    status: "under-way",
    startedAt,
    doneBy: crew.id,
    leftHours: left === null ? null : left / 4,
  } satisfies Partial<TaskInput>);
}

function crewsWith(crews: readonly CrewInput[], trades: readonly (string | null)[]): CrewInput[] {
  return crews.filter((crew) => trades.every((trade) => trade !== null && Object.hasOwn(crew.trades, trade)));
}
