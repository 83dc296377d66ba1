/**
 * Where a search on lines starts from: schedules built at random with the critical path in mind, and schedules half-way
 * between two good ones. Both are genomes: an order that respects precedence, and of each task an option, from 0.
 */
import type { Random } from "../random.js";
import type { Genome } from "../search.js";
import type { LineProblem } from "./line-problem.js";

/**
 * An order by longest path behind, disturbed by up to `noise` of it, each task given to the crew that is done with it
 * first (lines only grow at their ends).
 */
export function buildStart(problem: LineProblem, tails: Float64Array, random: Random, noise: number): Genome {
  const { count, crewCount, before, behind, release, options } = problem;
  const rank = Float64Array.from(tails, (tail) => tail * (1 + noise * random.next()));
  const waiting = new Int32Array(count);
  const ready: number[] = [];
  for (let task = 0; task < count; task++) {
    waiting[task] = (before.from[task + 1] as number) - (before.from[task] as number); // proof: rows cover all tasks
    if (waiting[task] === 0) ready.push(task);
  }
  const order = new Int32Array(count);
  const staffing = new Int32Array(count);
  const start = Int32Array.from(release);
  const freeAt = new Int32Array(crewCount);
  for (let at = 0; at < count; at++) {
    let pick = 0;
    for (let other = 1; other < ready.length; other++) {
      if ((rank[ready[other] as number] as number) > (rank[ready[pick] as number] as number)) pick = other;
    }
    const task = ready[pick] as number; // proof: precedence has no circle, so that something is ready
    ready[pick] = ready[ready.length - 1] as number;
    ready.pop();
    order[at] = task;
    const from = options.from[task] as number;
    let soonest = Number.MAX_SAFE_INTEGER;
    for (let option = from; option < (options.from[task + 1] as number); option++) {
      const free = freeAt[options.item[option] as number] ?? 0;
      const until = Math.max(free, start[task] as number) + (options.value[option] as number);
      if (until > soonest || (until === soonest && random.below(2) === 0)) continue;
      soonest = until;
      staffing[task] = option - from;
    }
    const crew = options.item[from + (staffing[task] as number)] as number;
    if (crew >= 0) freeAt[crew] = soonest;
    for (let edge = behind.from[task] as number; edge < (behind.from[task + 1] as number); edge++) {
      const next = behind.item[edge] as number;
      start[next] = Math.max(start[next] as number, soonest + (behind.value[edge] as number));
      waiting[next] = (waiting[next] as number) - 1;
      if (waiting[next] === 0) ready.push(next);
    }
  }
  return { order, staffing };
}

/**
 * Between two genomes: `share` of the options of the second, and tasks in the order of their places in both, weighted.
 * What both orders agree on is kept, precedence included.
 */
export function relink(one: Genome, two: Genome, share: number, random: Random): Genome {
  const count = one.order.length;
  const rank = new Float64Array(count);
  for (let at = 0; at < count; at++) {
    const first = one.order[at] as number; // proof: orders hold each task once
    const second = two.order[at] as number;
    rank[first] = (rank[first] as number) + (1 - share) * at;
    rank[second] = (rank[second] as number) + share * at;
  }
  return {
    order: Int32Array.from(one.order).sort((a, b) => (rank[a] as number) - (rank[b] as number) || a - b),
    staffing: one.staffing.map((option, task) =>
      random.next() < share ? (two.staffing[task] as number) : option,
    ),
  };
}
