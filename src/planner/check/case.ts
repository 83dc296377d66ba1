/** What every rule's check is given: the evidence, the crews' days taken apart, and the chains with their work. */
import type { BrokenRule, RuleName } from "./broken-rule.js";
import { listCrewDays, type CrewDay, type Stay } from "./crew-days.js";
import { idsOf, type BlockFact, type Evidence, type TaskFact } from "./evidence.js";
import { listChainWork, type ChainWork } from "./unit-work.js";

export interface Case {
  readonly evidence: Evidence;
  readonly days: readonly CrewDay[];
  readonly chains: readonly ChainWork[];
  /** Where a block at a house belongs. */
  readonly placeOf: ReadonlyMap<BlockFact, Place>;
}

export interface Place {
  readonly day: CrewDay;
  readonly stay: Stay;
}

/** Lists every place at which one rule is broken. */
export type Check = (files: Case) => readonly BrokenRule[];

export function makeCase(evidence: Evidence): Case {
  const days = listCrewDays(evidence);
  const placeOf = new Map<BlockFact, Place>();
  for (const day of days)
    for (const stay of day.stays) for (const block of stay.blocks) placeOf.set(block, { day, stay });
  return { evidence, days, chains: listChainWork(evidence), placeOf };
}

/** A broken rule about a task. */
export function brokenTask(rule: RuleName, fact: TaskFact, sentence: string): BrokenRule {
  return { rule, ...idsOf(fact), sentence };
}
