/**
 * From crews and an order to times on an exact problem: each piece at the first point that is open to it (rule 13). Plain
 * and slow. It gives the solver a first upper bound, so that it need not look at months in which nothing can lie, and
 * tests a second way to the same times.
 */
import { Random } from "../../../src/planner/core/random.js";
import { DAY, type ExactProblem } from "./exact-problem.js";
import { countCost, type Choice, type ExactCost, type ExactSolution } from "./exact-solution.js";

/** The solution in which each crew does its activities in the order of `choices`, which respects what follows what. */
export function schedule(problem: ExactProblem, choices: readonly Choice[]): ExactSolution {
  const { activities, pieces } = problem;
  const crewOf = activities.map(() => -1);
  const starts = pieces.map(() => 0);
  const ends = pieces.map(() => 0);
  const lastOf = new Map<number, number>();
  const endOf = (activity: number): number => ends[activities[activity]?.pieces.at(-1) ?? -1] ?? 0;
  for (const { activity, crew } of choices) {
    const facts = activities[activity];
    if (!facts) continue;
    const before = lastOf.get(crew);
    let at = Math.max(facts.release, readyBefore(problem, activity, endOf));
    if (before !== undefined) at = Math.max(at, freeAt(problem, before, facts.job, endOf(before)));
    for (const piece of facts.pieces) {
      const { minutes = [], whole = false } = pieces[piece] ?? {};
      const placed = place(problem, crew, at, minutes[crew] ?? 0, whole);
      starts[piece] = placed.start;
      ends[piece] = at = placed.end;
    }
    crewOf[activity] = crew;
    lastOf.set(crew, activity);
  }
  return { crewOf, starts, ends };
}

/** The cheapest of some seeded chance orders: an upper bound for what is to be proven. */
export function findUpperBound(problem: ExactProblem, tries: number): ExactCost {
  const random = new Random(1);
  let best: ExactCost | undefined;
  for (let count = 0; count < tries; count++) {
    const cost = countCost(problem, schedule(problem, chanceOrder(problem, random)));
    if (best === undefined || cost.total < best.total) best = cost;
  }
  if (best === undefined) throw new RangeError("an upper bound takes at least one try");
  return best;
}

/** Some order that respects what follows what, each activity with some crew that may work it. */
export function chanceOrder(problem: ExactProblem, random: Random): Choice[] {
  const befores = problem.activities.map((_, to) => listBefore(problem, to));
  const left = new Set(problem.activities.keys());
  const choices: Choice[] = [];
  while (left.size > 0) {
    const open = [...left].filter((activity) => befores[activity]?.every((before) => !left.has(before)));
    const activity = open[random.below(open.length)] ?? 0;
    const crews = problem.company.crews.flatMap((_, crew) =>
      (problem.activities[activity]?.minutes[crew] ?? 0) > 0 ? [crew] : [],
    );
    choices.push({ activity, crew: crews[random.below(crews.length)] ?? 0 });
    left.delete(activity);
  }
  return choices;
}

/** Activities that must end before one may start, directly or by a wait. */
export function listBefore({ edges, afterWait, waits }: ExactProblem, activity: number): number[] {
  return [
    ...edges.flatMap(({ from, to }) => (to === activity ? [from] : [])),
    ...afterWait.flatMap(({ wait, to }) => (to === activity ? (waits[wait]?.after ?? []) : [])),
  ];
}

function readyBefore(problem: ExactProblem, activity: number, endOf: (activity: number) => number): number {
  let ready = 0;
  for (const { from, to, lagDays, nextDate } of problem.edges) {
    if (to !== activity) continue;
    const end = endOf(from);
    ready = Math.max(ready, nextDate ? (Math.floor(end / DAY) + 1) * DAY : end + lagDays * DAY);
  }
  for (const { wait, to } of problem.afterWait) {
    if (to !== activity) continue;
    const lastDay = Math.max(
      ...(problem.waits[wait]?.after ?? []).map((one) => Math.floor(endOf(one) / DAY)),
    );
    ready = Math.max(ready, ((problem.waits[wait]?.endDay[lastDay] ?? problem.dayCount) + 1) * DAY);
  }
  return ready;
}

/** When a crew that ends an activity could begin at a house, were the day long enough: cleanup, way and setup, none of them split. */
function freeAt(problem: ExactProblem, before: number, house: number, end: number): number {
  const from = problem.activities[before]?.job ?? 0;
  if (from === house) return end;
  const day = Math.floor(end / DAY) * DAY;
  const { breakAt } = problem.windows;
  let at = end - day;
  for (const minutes of [problem.cleanupMinutes, problem.travel[from]?.[house] ?? 0, problem.setupMinutes]) {
    if (at < breakAt && at + minutes > breakAt) at = breakAt;
    at += minutes;
  }
  return day + at;
}

/** A piece at the first point from `ready` on: a whole one within one window, any other with at least a minute in the first. */
function place(
  { windows, dayCount }: ExactProblem,
  crew: number,
  ready: number,
  minutes: number,
  whole: boolean,
): { readonly start: number; readonly end: number } {
  let left = minutes;
  let start = -1;
  for (let day = Math.floor(ready / DAY); day < dayCount; day++) {
    const { from, to } = windows.days[crew]?.[day] ?? { from: 0, to: 0 };
    const first = Math.max(from, start < 0 ? ready - day * DAY : 0);
    const room = to - first;
    if (room <= 0 || (whole && room < minutes)) continue;
    if (start < 0) start = day * DAY + first;
    if (left <= room) return { start, end: day * DAY + first + left };
    left -= room;
  }
  throw new RangeError("the model's days are too few");
}
