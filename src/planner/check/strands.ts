/**
 * A strand is what a crew may not leave unfinished: a task, or a chain with all its tasks (rule 6). Here: who works on
 * which strand from when to when, and when a hold takes time from it (reading 18).
 */
import type { Crew } from "../../domain/company-schema.js";
import type { CivilDate, Interval, Minute } from "../../domain/time.js";
import { civilDateAt } from "../../domain/time.js";
import type { Case } from "./case.js";
import { keyOf, type Evidence, type TaskFact, type WorkFact } from "./evidence.js";
import { holdSpans } from "./house.js";
import { overlaps, unite } from "./spans.js";
import { findChainWork } from "./unit-work.js";

/** One crew's work on one strand. */
export interface Strand {
  readonly crew: Crew;
  readonly facts: readonly TaskFact[];
  readonly blocks: readonly WorkFact[];
  readonly first: Minute;
  readonly last: Minute;
  /** Whether it had been begun, by this crew, before the plan. */
  readonly underWay: boolean;
}

/** The crew that a task under way stays with. */
export const keeperOf = ({ task }: TaskFact): string | null =>
  task.status === "under-way" ? (task.doneBy ?? task.crew) : null;

export function listStrands({ evidence, chains }: Case): Strand[] {
  const groups = new Map<string, WorkFact[]>();
  for (const block of [...evidence.work.values()].flat()) {
    const chain = findChainWork(chains, block.task)?.chain;
    const name = chain === undefined ? block.task.key : keyOf(chain.job.id, chain.tasks[0]?.id ?? "");
    const key = `${block.crew.id} ${name}`;
    groups.set(key, [...(groups.get(key) ?? []), block]);
  }
  return [...groups.values()].flatMap((blocks) => {
    const sorted = blocks.sort((a, b) => a.start - b.start);
    const head = sorted[0];
    if (head === undefined) return [];
    const facts = [...new Set(sorted.map((block) => block.task))];
    return [
      {
        crew: head.crew,
        facts,
        blocks: sorted,
        first: head.start,
        last: Math.max(...sorted.map((block) => block.end)),
        underWay: facts.some((fact) => keeperOf(fact) === head.crew.id),
      },
    ];
  });
}

/**
 * Whether a block of other work lies in time that a hold takes from the strand: it ends before the hold does, and either
 * meets the hold or fills what the strand could not use of the day before it.
 */
export function isInHeldTime(evidence: Evidence, strand: Strand, block: WorkFact, date: CivilDate): boolean {
  const holds = strand.facts.flatMap((fact) =>
    fact.trade === null ? [] : holdSpans(evidence, fact.job, [fact.trade]),
  );
  return unite(holds).some(
    (hold) =>
      block.end <= hold.end &&
      (overlaps(block, hold) || fillsTheDayBefore(evidence, strand, block, date, hold)),
  );
}

function fillsTheDayBefore(
  evidence: Evidence,
  strand: Strand,
  block: WorkFact,
  date: CivilDate,
  hold: Interval,
): boolean {
  if (block.end > hold.start || civilDateAt(hold.start, evidence.zone) !== date) return false;
  return !strand.blocks.some((own) => own.start >= block.end && own.start < hold.start);
}
