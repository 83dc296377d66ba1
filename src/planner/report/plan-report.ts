/**
 * From a decoded timeline to the plan that everybody reads (`daylap-plan/1`).
 */
import {
  PLAN_FORMAT,
  type Plan,
  type PlanBlock,
  type PlanDay,
  type PlanTask,
} from "../../domain/plan-format.js";
import { present } from "../../domain/result.js";
import { lightInHandMinutes } from "../../daylight/light.js";
import type { Binding } from "../because.js";
import { rememberedLight } from "../compile/calendars.js";
import type { Compiled } from "../compile/compile.js";
import type { ZoneDays } from "../compile/zone-days.js";
import { LIFT } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import type { Visit } from "../core/visit.js";
import { Windows } from "../core/windows.js";
import { describeBinding } from "./because-report.js";
import type { Costed } from "./cost.js";
import { listWorkDates } from "./changes.js";
import { listCrewDays, type CrewDay, type DayBlock } from "./crew-days.js";
import { listUnkept } from "./unkept.js";

export interface PlanParts {
  readonly compiled: Compiled;
  readonly timeline: Timeline;
  readonly costed: Costed;
  readonly bindings: readonly (Binding | undefined)[];
  readonly unplacedWhy: ReadonlyMap<number, string>;
  readonly seed: number;
  readonly iterations: number;
}

export function buildPlan(parts: PlanParts): Plan {
  const { compiled, timeline, costed, seed, iterations } = parts;
  const crewDays = listCrewDays(compiled.problem, timeline, costed.openUnits);
  const tasks = listTasks(parts);
  return {
    format: PLAN_FORMAT,
    asOf: compiled.days.iso(compiled.problem.start),
    seed,
    iterations,
    blocks: listBlocks(compiled, crewDays),
    tasks,
    days: listDays(compiled, crewDays),
    impossible: listImpossible(parts),
    unkept:
      compiled.promises.length === 0
        ? []
        : listUnkept(
            compiled,
            listWorkDates(compiled, timeline),
            tasks,
            (job, task) => whyMoved(parts, job, task),
            (job, task) => whyImpossible(compiled, parts.unplacedWhy, job, task),
          ),
    cost: costed.figures,
  };
}

function crewId({ company }: Compiled, crew: number): string {
  return company.crews[crew]?.id ?? "";
}

function daysAt(compiled: Compiled, site: number): ZoneDays {
  return compiled.daysOfJob[site] ?? compiled.days;
}

function listBlocks(compiled: Compiled, crewDays: readonly CrewDay[]): PlanBlock[] {
  const done = new Map<number, number>();
  return crewDays.flatMap((crewDay) =>
    crewDay.blocks.map((block): PlanBlock => {
      const { kind, site, task, start, end } = block;
      const days = daysAt(compiled, site);
      return {
        crew: crewId(compiled, crewDay.crew),
        kind,
        job: compiled.company.jobs[site]?.id ?? null,
        task: compiled.open[task]?.task.id ?? null,
        units: kind === "work" ? unitsOf(compiled, crewDay.crew, block, done) : null,
        start: days.iso(start),
        end: days.iso(end),
      };
    }),
  );
}

/** The units that a block of work touches, counted from 1; `done` keeps the minutes worked before. */
function unitsOf(
  compiled: Compiled,
  crew: number,
  block: DayBlock,
  done: Map<number, number>,
): [number, number] {
  if (block.unit >= 0) return [block.unit + 1, block.unit + 1];
  const task = compiled.open[block.task]?.task;
  const length = compiled.problem.tasks[block.task]?.minutes[crew] ?? 0;
  const before = done.get(block.task) ?? 0;
  const after = before + block.end - block.start;
  done.set(block.task, after);
  const units = task?.units ?? 1;
  const left =
    task?.status === "under-way" && task.leftHours !== null ? task.leftHours : (task?.laborHours ?? 0);
  const unitsLeft = units * Math.min(1, left / Math.max(task?.laborHours ?? 0, left, 1e-9));
  const unitAt = (minutes: number): number =>
    units - unitsLeft + (length > 0 ? (minutes / length) * unitsLeft : 0);
  const first = Math.min(units, Math.floor(unitAt(before) + 1e-9) + 1);
  const last = Math.min(units, Math.max(first, Math.ceil(unitAt(after) - 1e-9)));
  return [first, last];
}

function listTasks(parts: PlanParts): PlanTask[] {
  const { compiled, timeline, bindings } = parts;
  return compiled.open.flatMap((open): PlanTask[] => {
    const { index, job, jobIndex, task } = open;
    const binding = bindings[index];
    const activity = compiled.problem.activityOf[index] ?? -1;
    if (!binding || !timeline.placed[activity]) return [];
    const days = daysAt(compiled, jobIndex);
    const crew =
      compiled.problem.tasks[index]?.trade === -1 ? null : crewId(compiled, timeline.crewOf[index] ?? -1);
    return [
      {
        job: job.id,
        task: task.id,
        crew,
        start: days.iso(timeline.startOf[index] ?? 0),
        end: days.iso(timeline.endOf[index] ?? 0),
        because: describeBinding(compiled, timeline, open, binding, days),
      },
    ];
  });
}

function listDays(compiled: Compiled, crewDays: readonly CrewDay[]): PlanDay[] {
  const windows = new Windows(compiled.problem);
  return crewDays.flatMap((crewDay) => {
    const last = new Map<number, Visit>();
    for (const visit of crewDay.visits) last.set(visit.site, visit);
    return [...last.values()].map((visit) => dayOf(compiled, crewDay, visit, windows));
  });
}

function dayOf(compiled: Compiled, { crew, day }: CrewDay, visit: Visit, windows: Windows): PlanDay {
  const { company, problem, days } = compiled;
  const own = daysAt(compiled, visit.site);
  const job = present(company.jobs[visit.site], "the job of a visit");
  // The house's date on which the shift begins, as for stretched days: a shift over its midnight has one light.
  const light = rememberedLight(job.site, own, own.dayOf(problem.shift.start(crew, day)), company.policy);
  const shiftEnd = windows.shiftEnd(crew, day, visit.site, LIFT.nothing);
  return {
    crew: crewId(compiled, crew),
    date: days.date(day),
    job: job.id,
    firstLight: light.first === null ? null : own.iso(light.first),
    lastLight: light.last === null ? null : own.iso(light.last),
    light: light.kind === "sun" ? "sun" : light.kind,
    toolsDown: own.iso(visit.toolsDown),
    lightInHandMinutes: lightInHandMinutes(light, company.policy.lightMarginMinutes, shiftEnd),
    stretch: problem.stretched(crew, day),
  };
}

function listImpossible({ compiled, unplacedWhy }: PlanParts): Plan["impossible"] {
  const { problem, open, impossible } = compiled;
  const unplaced = [...unplacedWhy].flatMap(([activity, why]) =>
    (problem.activities[activity]?.tasks ?? []).map((task) => {
      const facts = present(open[task], "an open task");
      return { job: facts.job.id, task: facts.task.id, why };
    }),
  );
  return [...impossible.map(({ job, task, why }) => ({ job: job.id, task: task.id, why })), ...unplaced];
}

/** What keeps a published task from its day: what binds it, other than that it is published. */
function whyMoved({ compiled, timeline, bindings }: PlanParts, job: string, task: string): string {
  const open = present(
    compiled.open.find((one) => one.job.id === job && one.task.id === task),
    "a planned task",
  );
  const binding = present(bindings[open.index], "the binding of a planned task");
  const days = daysAt(compiled, open.jobIndex);
  return describeBinding(compiled, timeline, open, binding.besidePublished ?? binding, days).text.en;
}

function whyImpossible(
  compiled: Compiled,
  unplacedWhy: ReadonlyMap<number, string>,
  job: string,
  task: string,
): string {
  const before = compiled.impossible.find((one) => one.job.id === job && one.task.id === task);
  if (before) return before.why;
  const open = compiled.open.find((one) => one.job.id === job && one.task.id === task);
  return unplacedWhy.get(compiled.problem.activityOf[open?.index ?? -1] ?? -1) ?? "";
}
