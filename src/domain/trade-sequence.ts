/**
 * The ready-made sequences: steps for one area of a house, to be edited job by job. Each obeys the order rules.
 */
import { fullReside } from "./sequence-reside.js";
import { stoneSkirt } from "./sequence-stone-skirt.js";
import { stormRepair } from "./sequence-storm.js";
import { windowReplacement } from "./sequence-windows.js";
import type { TradeSequence } from "./sequence-step.js";

export const tradeSequences: readonly TradeSequence[] = [
  windowReplacement,
  fullReside,
  stoneSkirt,
  stormRepair,
];

/** The ids of all steps that must be done before one begins, however far back. */
export function listAncestors(sequence: TradeSequence, stepId: string): ReadonlySet<string> {
  const found = new Set<string>();
  const open = [stepId];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    const step = sequence.steps.find((candidate) => candidate.id === id);
    for (const link of step?.after ?? []) {
      if (found.has(link.step)) continue;
      found.add(link.step);
      open.push(link.step);
    }
  }
  return found;
}
