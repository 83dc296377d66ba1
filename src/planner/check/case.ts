/** What every rule's check is given: the evidence, the crews' days taken apart, and the chains with their work. */
import type { BrokenRule, RuleName } from "./broken-rule.js";
import { listCrewDays, type CrewDay } from "./crew-days.js";
import { idsOf, type Evidence, type TaskFact } from "./evidence.js";
import { listChainWork, type ChainWork } from "./unit-work.js";

export interface Case {
  readonly evidence: Evidence;
  readonly days: readonly CrewDay[];
  readonly chains: readonly ChainWork[];
}

/** Lists every place at which one rule is broken. */
export type Check = (files: Case) => readonly BrokenRule[];

export function makeCase(evidence: Evidence): Case {
  return { evidence, days: listCrewDays(evidence), chains: listChainWork(evidence) };
}

/** A broken rule about a task. */
export function brokenTask(rule: RuleName, fact: TaskFact, sentence: string): BrokenRule {
  return { rule, ...idsOf(fact), sentence };
}
