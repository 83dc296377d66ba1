/**
 * What a plan costs: the figures of the planning model ("What is being minimised", readings 21 to 25) and their sum.
 */
import type { CostFigures } from "../../domain/plan-format.js";
import { daysBetween, civilDate, type CivilDate } from "../../domain/time.js";
import { LIFT, type Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import { Windows } from "../core/windows.js";
import type { Compiled } from "../compile/compile.js";
import { listCrewDays, type CrewDay } from "./crew-days.js";
import { listOpenUnits, type OpenUnit } from "./open-wall.js";

export interface Costed {
  readonly figures: CostFigures;
  readonly crewDays: readonly CrewDay[];
  readonly openUnits: readonly OpenUnit[];
  /** Sum of the minutes at which tasks end: the tie-breaker. */
  readonly totalFinish: number;
}

/** `unplaced` tasks and impossible ones leave their job without an end. */
export function costOf(compiled: Compiled, timeline: Timeline, unplaced: readonly number[]): Costed {
  const { problem, company } = compiled;
  const openUnits = listOpenUnits(problem, timeline);
  const crewDays = listCrewDays(problem, timeline, openUnits);
  const { lateDays, weightedLateDays } = countLateDays(compiled, timeline, unplaced);
  const { idleMinutes, overtimeMinutes } = countHours(compiled, crewDays);
  const moves = countMoves(compiled, timeline);
  const changes = countChanges(compiled, crewDays);
  const openNights = countOpenNights(compiled, openUnits);
  const { cost } = company.policy;
  const total =
    cost.lateDay * weightedLateDays +
    (cost.idleCrewHour * idleMinutes) / 60 +
    cost.move * moves +
    cost.change * changes +
    cost.openNight * openNights +
    (cost.overtimeCrewHour * overtimeMinutes) / 60;
  let totalFinish = 0;
  for (const end of timeline.endOf) if (end > problem.start) totalFinish += end - problem.start;
  const figures = {
    lateDays,
    idleCrewHours: idleMinutes / 60,
    moves,
    changes,
    openNights,
    overtimeCrewHours: overtimeMinutes / 60,
    total,
  };
  return { figures, crewDays, openUnits, totalFinish };
}

function countLateDays(
  { problem, company, open, impossible, daysOfJob }: Compiled,
  timeline: Timeline,
  unplaced: readonly number[],
): { lateDays: number; weightedLateDays: number } {
  const endless = new Set(impossible.map(({ job }) => job.id));
  for (const activity of unplaced)
    endless.add(company.jobs[problem.activities[activity]?.site ?? -1]?.id ?? "");
  const ends = new Map<number, number>();
  for (const { index, jobIndex } of open)
    ends.set(jobIndex, Math.max(ends.get(jobIndex) ?? 0, timeline.endOf[index] ?? 0));
  let lateDays = 0;
  let weightedLateDays = 0;
  for (const [jobIndex, end] of ends) {
    const job = company.jobs[jobIndex];
    const days = daysOfJob[jobIndex];
    if (!job || !days || job.promised === null || endless.has(job.id)) continue;
    // A wait that ends at midnight ends with the day before.
    const late = Math.max(0, daysBetween(civilDate(job.promised), days.date(days.dayOf(end - 1))));
    lateDays += late;
    weightedLateDays += late * job.weight;
  }
  return { lateDays, weightedLateDays };
}

function countHours(
  { problem, company, days }: Compiled,
  crewDays: readonly CrewDay[],
): { idleMinutes: number; overtimeMinutes: number } {
  const windows = new Windows(problem);
  let idleMinutes = 0;
  const weeks = new Map<string, number>();
  for (const { crew, day, blocks, shiftStart, shiftEnd } of crewDays) {
    const lastEnd = blocks.at(-1)?.end ?? shiftStart;
    const end = problem.stretched(crew, day) ? Math.max(problem.shift.end(crew, day), lastEnd) : shiftEnd;
    const breakStart = windows.breakStart(crew, day, end, LIFT.nothing);
    const breakEnd = Math.min(end, breakStart + problem.breakMinutes);
    const unpaid = breakStart < 0 ? 0 : Math.max(0, breakEnd - Math.max(breakStart, shiftStart));
    const paid = Math.max(0, end - shiftStart) - unpaid;
    const busy = blocks.reduce(
      (sum, { kind, start, end: until }) => (kind === "break" ? sum : sum + until - start),
      0,
    );
    idleMinutes += paid - busy;
    const week = `${crew}/${weekOf(days.date(day))}`;
    weeks.set(week, (weeks.get(week) ?? 0) + paid);
  }
  const limit = company.policy.weeklyHours * 60;
  let overtimeMinutes = 0;
  for (const paid of weeks.values()) overtimeMinutes += Math.max(0, paid - limit);
  return { idleMinutes, overtimeMinutes };
}

/** Weeks from Monday to Sunday, numbered. */
function weekOf(date: CivilDate): number {
  return Math.floor(daysBetween(civilDate("1970-01-05"), date) / 7);
}

function countMoves({ problem }: Compiled, timeline: Timeline): number {
  let moves = 0;
  for (const [crew, visits] of timeline.visits.entries()) {
    const begunAt = listSpansBySite(problem, timeline, crew);
    let left: (typeof visits)[number] | undefined;
    for (const next of visits) {
      const at = left?.leave ?? 0;
      const spans = left && left.site !== next.site ? (begunAt.get(left.site) ?? []) : [];
      if (spans.some((span) => span.start < at && span.end > at)) moves++;
      left = next;
    }
  }
  return moves;
}

/** From when to when a crew is at its activities at each site. */
function listSpansBySite(
  problem: Problem,
  timeline: Timeline,
  crew: number,
): ReadonlyMap<number, { start: number; end: number }[]> {
  const bySite = new Map<number, { start: number; end: number }[]>();
  for (const { site, tasks } of problem.activities) {
    const own = tasks.filter((task) => timeline.crewOf[task] === crew);
    if (own.length === 0) continue;
    const start = Math.min(...own.map((task) => timeline.startOf[task] ?? 0));
    const end = Math.max(...own.map((task) => timeline.endOf[task] ?? 0));
    bySite.set(site, [...(bySite.get(site) ?? []), { start, end }]);
  }
  return bySite;
}

function countChanges({ company, open, days, problem }: Compiled, crewDays: readonly CrewDay[]): number {
  if (company.published === null) return 0;
  const planned = new Map<string, Set<string>>();
  const note = (map: Map<string, Set<string>>, task: string, crew: string, date: string): void => {
    const set = map.get(task) ?? new Set<string>();
    map.set(task, set.add(`${crew}/${date}`));
  };
  const names = new Map(open.map(({ index, job, task }) => [index, `${job.id}/${task.id}`]));
  for (const { crew, day, blocks } of crewDays) {
    for (const block of blocks) {
      const name = names.get(block.task);
      if (block.kind === "work" && name !== undefined)
        note(planned, name, company.crews[crew]?.id ?? "", days.date(day));
    }
  }
  const published = new Map<string, Set<string>>();
  const undone = company.jobs.flatMap((job) =>
    job.tasks.filter((task) => task.status !== "done").map((task) => `${job.id}/${task.id}`),
  );
  const known = new Set(undone);
  for (const block of company.published) {
    const name = `${block.job ?? ""}/${block.task ?? ""}`;
    if (block.kind !== "work" || !known.has(name)) continue;
    const start = days.parse(block.start);
    if (start < days.at(days.dayOf(problem.start))) continue;
    note(published, name, block.crew, days.date(days.dayOf(start)));
  }
  let changes = 0;
  for (const [name, before] of published) {
    const now = planned.get(name) ?? new Set<string>();
    if (now.size !== before.size || [...before].some((one) => !now.has(one))) changes++;
  }
  return changes;
}

function countOpenNights({ problem }: Compiled, openUnits: readonly OpenUnit[]): number {
  const nights = new Map<number, Set<number>>();
  for (const { activity, open, close } of openUnits) {
    const site = problem.activities[activity]?.site ?? 0;
    const set = nights.get(activity) ?? new Set<number>();
    for (let day = problem.siteDay(site, open); day < problem.siteDay(site, close); day++) set.add(day);
    nights.set(activity, set);
  }
  let count = 0;
  for (const set of nights.values()) count += set.size;
  return count;
}
