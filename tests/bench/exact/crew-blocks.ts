/**
 * A crew's line of the exact model as the blocks of its days: setup, work, cleanup, the way to another house and the
 * meal break. All in minutes since midnight of the first date, on the wall clock.
 */
import type { BlockKind } from "../../../src/domain/company-schema.js";
import { DAY, minutesOf, shareOf, type ExactProblem } from "./exact-problem.js";
import { listLine, type ExactSolution } from "./exact-solution.js";

export interface Block {
  readonly kind: BlockKind;
  readonly crew: number;
  readonly job: number;
  /** For work. */
  readonly taskId: string | null;
  /** Of a chain, from 1. */
  readonly unit: number | null;
  readonly start: number;
  readonly end: number;
}

interface Work {
  readonly day: number;
  readonly job: number;
  readonly taskId: string;
  readonly unit: number | null;
  /** On the model's axis, which leaves the meal break out. */
  readonly from: number;
  readonly to: number;
}

/** All blocks of a crew, in order of time. */
export function listCrewBlocks(problem: ExactProblem, solution: ExactSolution, crew: number): Block[] {
  const work = listLine(problem, solution, crew).flatMap((activity) =>
    listWork(problem, solution, crew, activity),
  );
  const days = [...new Set(work.map(({ day }) => day))];
  return days.flatMap((day) =>
    listDay(
      problem,
      crew,
      day,
      work.filter((one) => one.day === day),
    ),
  );
}

/** What is worked of an activity on each day: a chain's unit share by share, a task in each window until it is done. */
function listWork(problem: ExactProblem, solution: ExactSolution, crew: number, activity: number): Work[] {
  const { job = 0, tasks = [], pieces = [] } = problem.activities[activity] ?? {};
  const facts = problem.company.crews[crew];
  return pieces.flatMap((piece, unit) => {
    const start = solution.starts[piece] ?? 0;
    const end = solution.ends[piece] ?? 0;
    const isChain = problem.pieces[piece]?.whole === true;
    const work: Work[] = [];
    if (isChain) {
      const day = Math.floor(start / DAY);
      let at = start - day * DAY;
      for (const task of tasks) {
        const minutes = shareOf(facts ? minutesOf(facts, task) : 0, unit, pieces.length);
        if (minutes > 0) work.push({ day, job, taskId: task.id, unit: unit + 1, from: at, to: at + minutes });
        at += minutes;
      }
      return work;
    }
    const lastDay = Math.floor(end / DAY);
    for (let day = Math.floor(start / DAY); day <= lastDay; day++) {
      const window = problem.windows.days[crew]?.[day] ?? { from: 0, to: 0 };
      const from = Math.max(window.from, start - day * DAY);
      const to = Math.min(window.to, end - day * DAY);
      if (from < to) work.push({ day, job, taskId: tasks[0]?.id ?? "", unit: null, from, to });
    }
    return work;
  });
}

function listDay(problem: ExactProblem, crew: number, day: number, work: readonly Work[]): Block[] {
  const { windows, setupMinutes, cleanupMinutes, travel } = problem;
  const midnight = day * DAY;
  const rest = midnight + windows.shiftStart + windows.breakAt;
  const restEnd = rest + windows.breakMinutes;
  const clock = (minute: number, isPast: boolean): number =>
    midnight + windows.shiftStart + minute + (isPast ? windows.breakMinutes : 0);
  const afterRest = (start: number, minutes: number): number =>
    start < restEnd && start + minutes > rest ? restEnd : start;
  const blocks: Block[] = [];
  const add = (kind: BlockKind, job: number, start: number, minutes: number): number => {
    if (minutes > 0) blocks.push({ kind, crew, job, taskId: null, unit: null, start, end: start + minutes });
    return start + minutes;
  };
  let at = 0;
  let house = -1;
  for (const { job, taskId, unit, from, to } of work) {
    const start = clock(from, from >= windows.breakAt);
    const end = clock(to, to > windows.breakAt);
    if (house < 0) {
      const latest = start - setupMinutes;
      add(
        "setup",
        job,
        latest < restEnd && start > rest ? Math.min(latest, rest - setupMinutes) : latest,
        setupMinutes,
      );
    } else if (house !== job) {
      const way = travel[house]?.[job] ?? 0;
      at = add("cleanup", house, afterRest(at, cleanupMinutes), cleanupMinutes);
      at = add("travel", job, afterRest(at, way), way);
      add("setup", job, afterRest(at, setupMinutes), setupMinutes);
    }
    for (const [first, last] of [
      [start, Math.min(end, rest)],
      [Math.max(start, restEnd), end],
    ] as const) {
      if (first < last) blocks.push({ kind: "work", crew, job, taskId, unit, start: first, end: last });
    }
    house = job;
    at = end;
  }
  add("cleanup", house, afterRest(at, cleanupMinutes), cleanupMinutes);
  const last = blocks.at(-1)?.end ?? 0;
  if ((blocks[0]?.start ?? Infinity) < rest && last > restEnd)
    add("break", house, rest, windows.breakMinutes);
  return blocks.sort((a, b) => a.start - b.start);
}
