/**
 * Which minutes of a plan belong to which unit of a chain. Blocks say their units; a block of several units is read as
 * doing them one after the other, each up to its share. From that: when a unit's task ends, and when a unit is open.
 */
import type { Task } from "../../domain/company-schema.js";
import { parseInstant, type Interval, type Minute } from "../../domain/time.js";
import { wasOpen, chainsOf, type Chain } from "./chains.js";
import { keyOf, workOf, type Evidence, type TaskFact, type WorkFact } from "./evidence.js";
import { sharesOf, type Share } from "./length.js";
import { covers, minutesIn } from "./spans.js";

/** The part of a block that falls on one unit. */
export interface Piece extends Interval {
  readonly block: WorkFact;
}

export interface TaskUnits {
  readonly fact: TaskFact;
  readonly shares: readonly Share[];
  /** Index 0 is unit 1. */
  readonly pieces: readonly (readonly Piece[])[];
  /** Blocks, or rests of blocks, that fit into none of the units that they name. */
  readonly unplaced: readonly Piece[];
}

export interface ChainWork {
  readonly chain: Chain;
  readonly units: ReadonlyMap<string, TaskUnits>;
}

export function listChainWork(evidence: Evidence): ChainWork[] {
  return evidence.company.jobs.flatMap((job) =>
    chainsOf(job).chains.map((chain) => ({
      chain,
      units: new Map(
        chain.tasks.flatMap((task) => {
          const fact = evidence.tasks.get(keyOf(job.id, task.id));
          return fact === undefined || fact.trade === null
            ? []
            : [[fact.key, splitWork(evidence, chain, fact)] as const];
        }),
      ),
    })),
  );
}

export function findChainWork(all: readonly ChainWork[], fact: TaskFact): ChainWork | undefined {
  return all.find(({ chain }) => chain.job === fact.job && chain.tasks.includes(fact.task));
}

function splitWork(evidence: Evidence, chain: Chain, fact: TaskFact): TaskUnits {
  const blocks = workOf(evidence, fact.key);
  const shares = sharesOf(fact.task, chain.units, minutesIn(blocks));
  const pieces: Piece[][] = shares.map(() => []);
  const unplaced: Piece[] = [];
  for (const block of blocks) {
    const [first, last] = block.units ?? [1, chain.units];
    let at = block.start;
    for (let unit = first; unit <= last && at < block.end; unit += 1) {
      const mine = pieces[unit - 1];
      const share = shares[unit - 1];
      const room = (unit === last ? share?.most : share?.minutes) ?? 0;
      const left = room - minutesIn(mine ?? []);
      const end = Math.min(block.end, at + Math.max(0, left));
      if (mine !== undefined && end > at) mine.push({ block, start: at, end });
      at = end;
    }
    if (at < block.end) unplaced.push({ block, start: at, end: block.end });
  }
  return { fact, shares, pieces, unplaced };
}

/** When a task begins: its first work, or what the plan says of a task without any. Undefined where it is not planned. */
export function startOfTask(evidence: Evidence, fact: TaskFact): Minute | undefined {
  return workOf(evidence, fact.key)[0]?.start ?? evidence.entryOf.get(fact.key)?.start;
}

/** When a task ends; done tasks at `finishedAt`, or long ago. Undefined where it is not planned. */
export function endOfTask(evidence: Evidence, fact: TaskFact): Minute | undefined {
  if (fact.task.status === "done") {
    return fact.task.finishedAt === null
      ? -Infinity
      : (parseInstant(fact.task.finishedAt, fact.zone) ?? -Infinity);
  }
  const work = workOf(evidence, fact.key);
  return work.length > 0 ? Math.max(...work.map((block) => block.end)) : evidence.entryOf.get(fact.key)?.end;
}

/** When a chain's task is through with a unit (from 1): for an empty share, when all that it follows is. */
export function endOfUnit(
  evidence: Evidence,
  work: ChainWork,
  fact: TaskFact,
  unit: number,
): Minute | undefined {
  if (fact.task.status === "done" || fact.trade === null) return endOfTask(evidence, fact);
  const pieces = work.units.get(fact.key)?.pieces[unit - 1] ?? [];
  if (pieces.length > 0) return Math.max(...pieces.map((piece) => piece.end));
  if (!evidence.entryOf.has(fact.key)) return undefined;
  if (fact.task.status === "under-way") return -Infinity;
  const ends = fact.task.after.map((link) => {
    const before = evidence.tasks.get(keyOf(fact.job.id, link.task));
    if (before === undefined) return -Infinity;
    const inside = work.chain.tasks.includes(before.task);
    const end = inside ? endOfUnit(evidence, work, before, unit) : endOfTask(evidence, before);
    return end === undefined ? Infinity : end + link.lagHours * 60;
  });
  return Math.max(-Infinity, ...ends);
}

/** While a unit (from 1) is open: −∞ where it was before the plan, +∞ where the plan never closes it; null if never. */
export function openSpan(evidence: Evidence, work: ChainWork, unit: number): Interval | null {
  const { chain } = work;
  const factOf = (task: Task) => evidence.tasks.get(keyOf(chain.job.id, task.id));
  const openings = chain.openers.flatMap((task) => {
    const fact = factOf(task);
    return fact === undefined
      ? []
      : (work.units.get(fact.key)?.pieces[unit - 1] ?? []).map((piece) => piece.start);
  });
  const start = wasOpen(chain, unit) ? -Infinity : Math.min(Infinity, ...openings);
  if (start === Infinity) return null;
  const ends = chain.closers.map((task) => {
    const fact = factOf(task);
    return fact === undefined ? Infinity : (endOfUnit(evidence, work, fact, unit) ?? Infinity);
  });
  const end = Math.max(-Infinity, ...ends);
  return end > start ? { start, end } : null;
}

/** All work of a unit (from 1), over all tasks of its chain, in order of time. */
export function piecesOfUnit(work: ChainWork, unit: number): Piece[] {
  return [...work.units.values()]
    .flatMap((units) => units.pieces[unit - 1] ?? [])
    .sort((a, b) => a.start - b.start);
}

/** Whether everything from the first to the last minute of the pieces lies in the window, a meal break apart. */
export function isUnbroken(
  pieces: readonly Interval[],
  window: readonly Interval[],
  mealBreak: Interval | null,
): boolean {
  const start = Math.min(...pieces.map((piece) => piece.start));
  const end = Math.max(...pieces.map((piece) => piece.end));
  return pieces.length === 0 || covers(mealBreak === null ? window : [...window, mealBreak], { start, end });
}
