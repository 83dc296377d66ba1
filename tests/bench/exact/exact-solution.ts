/**
 * A solution of an exact problem, and its cost counted from its times alone: no solver and no planner code takes part.
 */
import { addDays, daysBetween, mondayOf } from "../../../src/domain/time.js";
import { DAY, type ExactProblem } from "./exact-problem.js";

export interface ExactSolution {
  /** Crew by activity. */
  readonly crewOf: readonly number[];
  /** Points by piece. */
  readonly starts: readonly number[];
  readonly ends: readonly number[];
}

export interface Choice {
  readonly activity: number;
  readonly crew: number;
}

export interface ExactCost {
  readonly lateDays: number;
  readonly idleCrewHours: number;
  readonly overtimeCrewHours: number;
  readonly total: number;
}

/** What a solution costs by the planning model (readings 21 and 22); it has no moves, changes or open nights. */
export function countCost(problem: ExactProblem, solution: ExactSolution): ExactCost {
  const { company, activities, windows, firstDate } = problem;
  const { cost, weeklyHours } = company.policy;
  let lateDays = 0;
  let weighted = 0;
  for (const [job, promised] of problem.promisedDay.entries()) {
    if (promised === undefined) continue;
    const late = Math.max(0, lastDayOf(problem, solution, job) - promised);
    lateDays += late;
    weighted += late * (company.jobs[job]?.weight ?? 1);
  }
  let idleMinutes = 0;
  let overtimeMinutes = 0;
  for (const [crew, days] of windows.days.entries()) {
    const weeks = new Map<number, number>();
    for (const day of listCalledOut(problem, solution, crew)) {
      const paid = days[day]?.paidMinutes ?? 0;
      const week = daysBetween(mondayOf(firstDate), mondayOf(addDays(firstDate, day))) / 7;
      weeks.set(week, (weeks.get(week) ?? 0) + paid);
      idleMinutes += paid - problem.setupMinutes - problem.cleanupMinutes;
    }
    for (const paid of weeks.values()) overtimeMinutes += Math.max(0, paid - weeklyHours * 60);
    const line = listLine(problem, solution, crew);
    for (const [place, activity] of line.entries()) {
      idleMinutes -= activities[activity]?.minutes[crew] ?? 0;
      const before = line[place - 1];
      if (before !== undefined) idleMinutes -= awayMinutes(problem, solution, before, activity);
    }
  }
  return {
    lateDays,
    idleCrewHours: idleMinutes / 60,
    overtimeCrewHours: overtimeMinutes / 60,
    total:
      cost.lateDay * weighted +
      (cost.idleCrewHour * idleMinutes) / 60 +
      (cost.overtimeCrewHour * overtimeMinutes) / 60,
  };
}

/** Activities of a crew in order of time. */
export function listLine(problem: ExactProblem, solution: ExactSolution, crew: number): readonly number[] {
  return problem.activities
    .map((_, index) => index)
    .filter((index) => solution.crewOf[index] === crew)
    .sort((a, b) => startOf(problem, solution, a) - startOf(problem, solution, b));
}

/** Activities in order of their starts, each with its crew: what the times follow from. */
export function listChoices(problem: ExactProblem, solution: ExactSolution): Choice[] {
  return problem.activities
    .map((_, activity) => ({ activity, crew: solution.crewOf[activity] ?? -1 }))
    .sort((a, b) => startOf(problem, solution, a.activity) - startOf(problem, solution, b.activity));
}

export function startOf({ activities }: ExactProblem, { starts }: ExactSolution, activity: number): number {
  return starts[activities[activity]?.pieces[0] ?? -1] ?? 0;
}

export function endOf({ activities }: ExactProblem, { ends }: ExactSolution, activity: number): number {
  return ends[activities[activity]?.pieces.at(-1) ?? -1] ?? 0;
}

/** The day with which the last of a house ends. */
function lastDayOf(problem: ExactProblem, solution: ExactSolution, job: number): number {
  const dayOfEnd = (activity: number): number => Math.floor(endOf(problem, solution, activity) / DAY);
  const worked = problem.activities.flatMap((activity, index) =>
    activity.job === job ? [dayOfEnd(index)] : [],
  );
  const waited = problem.waits
    .filter((wait) => wait.job === job)
    .map((wait) => wait.endDay[Math.max(...wait.after.map(dayOfEnd))] ?? problem.dayCount);
  return Math.max(...worked, ...waited);
}

/** Days on which a crew has work: each day with a window between a piece's start and its end. */
export function listCalledOut(
  problem: ExactProblem,
  solution: ExactSolution,
  crew: number,
): ReadonlySet<number> {
  const days = new Set<number>();
  for (const [index, piece] of problem.pieces.entries()) {
    if (solution.crewOf[piece.activity] !== crew) continue;
    const last = Math.floor((solution.ends[index] ?? 0) / DAY);
    for (let day = Math.floor((solution.starts[index] ?? 0) / DAY); day <= last; day++) {
      const window = problem.windows.days[crew]?.[day];
      if (window && window.to > window.from) days.add(day);
    }
  }
  return days;
}

/** Cleanup, way and setup between two activities of a crew that follow each other on one day at two houses. */
function awayMinutes(problem: ExactProblem, solution: ExactSolution, before: number, after: number): number {
  const from = problem.activities[before]?.job ?? 0;
  const to = problem.activities[after]?.job ?? 0;
  const left = Math.floor(endOf(problem, solution, before) / DAY);
  const begun = Math.floor(startOf(problem, solution, after) / DAY);
  if (from === to || left !== begun) return 0;
  return problem.cleanupMinutes + (problem.travel[from]?.[to] ?? 0) + problem.setupMinutes;
}
