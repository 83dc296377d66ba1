/**
 * The independent reading of the thirteen rules: a company and a plan in, every broken rule out, in plain sentences.
 * It shares no window, calendar, chain or duration code with the planner and recomputes all of it from the company file,
 * slowly and plainly. It serves the tests, and guards publishing.
 */
import type { Company } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import type { BrokenRule, RuleName } from "./broken-rule.js";
import { makeCase, type Check } from "./case.js";
import { checkCost } from "./cost.js";
import { checkDays } from "./days.js";
import { readEvidence } from "./evidence.js";
import { checkEligible } from "./rule-01-eligible.js";
import { checkOnePlace } from "./rule-02-one-place.js";
import { checkWindows } from "./rule-03-windows.js";
import { checkOrder } from "./rule-04-order.js";
import { checkGates } from "./rule-05-gates.js";
import { checkContinuity } from "./rule-06-continuity.js";
import { checkWholeUnits } from "./rule-07-whole-units.js";
import { checkOpenWall } from "./rule-08-open-wall.js";
import { checkDaysEnd } from "./rule-09-days-end.js";
import { checkEquipment } from "./rule-10-equipment.js";
import { checkPast } from "./rule-11-past.js";
import { checkComplete } from "./rule-12-complete.js";
import { checkPrompt } from "./rule-13-prompt.js";

/** "format" is found while the plan is read; the entries that contradict their blocks come with rule 12. */
const CHECKS = {
  1: checkEligible,
  2: checkOnePlace,
  3: checkWindows,
  4: checkOrder,
  5: checkGates,
  6: checkContinuity,
  7: checkWholeUnits,
  8: checkOpenWall,
  9: checkDaysEnd,
  10: checkEquipment,
  11: checkPast,
  12: checkComplete,
  13: checkPrompt,
  cost: checkCost,
  days: checkDays,
} satisfies Record<Exclude<RuleName, "format">, Check>;

/**
 * Every rule that the plan breaks, in the order of the rules; empty for a good plan. A plan that cannot be read (unknown
 * ids, times that are none) is answered with its "format" faults alone.
 */
export function checkPlan(company: Company, plan: Plan): readonly BrokenRule[] {
  const evidence = readEvidence(company, plan);
  if (!evidence.ok) return evidence.error;
  const files = makeCase(evidence.value);
  return Object.values(CHECKS).flatMap((check: Check) => check(files));
}
