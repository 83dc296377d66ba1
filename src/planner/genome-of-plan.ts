/**
 * A plan that stands as a start for the search: the same crews, each with its work in the same order. What the company
 * has got since, and what the plan leaves out, goes where a first plan puts it.
 */
import { Heap } from "./core/heap.js";
import type { Plan } from "../domain/plan-format.js";
import type { Compiled } from "./compile/compile.js";
import type { Genome } from "./core/search.js";
import type { Timeline } from "./core/timeline.js";

/** `first` is a plan of the same problem, and `staffings` its staffings: both know every activity that has a place. */
export function genomeOfPlan(compiled: Compiled, plan: Plan, first: Timeline, staffings: Int32Array): Genome {
  const { problem, open, company, days } = compiled;
  const crewIndex = new Map(company.crews.map((crew, index) => [crew.id, index]));
  const planned = new Map(plan.tasks.map((task) => [`${task.job}/${task.task}`, task]));
  const staffing = staffings.slice();
  const starts = new Float64Array(problem.activities.length);
  const lines = new Map<number, { activity: number; start: number }[]>();
  for (const [index, activity] of problem.activities.entries()) {
    const own = activity.tasks.map((task) => {
      const facts = planned.get(`${open[task]?.job.id ?? ""}/${open[task]?.task.id ?? ""}`);
      const start = facts ? days.parse(facts.start) : (first.startOf[task] ?? problem.start);
      const crew = facts
        ? facts.crew === null
          ? -1
          : (crewIndex.get(facts.crew) ?? -1)
        : (first.crewOf[task] ?? -1);
      return { start, crew };
    });
    starts[index] = Math.min(...own.map(({ start }) => start));
    const same = activity.staffings.findIndex((crews) =>
      own.every(({ crew }, place) => crew < 0 || crews[place] === crew),
    );
    if (same >= 0) staffing[index] = same;
    for (const crew of new Set(own.map((one) => one.crew))) {
      if (crew < 0) continue;
      const start = Math.min(...own.filter((one) => one.crew === crew).map((one) => one.start));
      lines.set(crew, [...(lines.get(crew) ?? []), { activity: index, start }]);
    }
  }
  return { order: orderByLines(compiled, starts, lines), staffing };
}

/** An order that keeps precedence and each crew's line; of what may come next, what starts first. */
function orderByLines(
  { problem }: Compiled,
  starts: Float64Array,
  lines: ReadonlyMap<number, { activity: number; start: number }[]>,
): Int32Array {
  const followers = problem.activities.map((activity) => [...activity.followers]);
  for (const line of lines.values()) {
    line.sort((a, b) => a.start - b.start || a.activity - b.activity);
    for (const [place, { activity }] of line.entries()) {
      const next = line[place + 1];
      if (next) followers[activity]?.push(next.activity);
    }
  }
  const waitingFor = new Int32Array(problem.activities.length);
  for (const next of followers.flat()) waitingFor[next] = (waitingFor[next] ?? 0) + 1;
  const heap = new Heap();
  for (const [activity, count] of waitingFor.entries())
    if (count === 0) heap.push(activity, starts[activity] ?? 0, 0);
  const order: number[] = [];
  for (let next = heap.pop(); next !== undefined; next = heap.pop()) {
    order.push(next);
    for (const follower of followers[next] ?? []) {
      const left = (waitingFor[follower] ?? 0) - 1;
      waitingFor[follower] = left;
      if (left === 0) heap.push(follower, starts[follower] ?? 0, 0);
    }
  }
  if (order.length === problem.activities.length) return Int32Array.from(order);
  // The plan's lines no longer agree with what follows what: precedence alone (activities are numbered by it).
  return Int32Array.from(problem.activities.keys());
}
