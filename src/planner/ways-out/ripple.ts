/**
 * The ripple of a change: what it moves, and nothing else. The company before and after it is planned at the same minute,
 * in the order of the plan that stood; both have done by then what that plan had done. So neither the hours that have
 * gone by nor what a search would find are in it.
 */
import type { Company } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import type { Minute } from "../../domain/time.js";
import { PlanProgress, type DoneByPlan } from "./done-by-plan.js";
import { holdOrder } from "./hold-order.js";
import { findDifference, type PlanDifference } from "./plan-difference.js";
import { collectWork, type PlannedWork } from "./planned-work.js";
import { Recovery } from "./recovery.js";
import { listLeftOut, listSpans } from "./to-way.js";

/** Two plans in the same order, and what is different between them. */
export interface Ripple {
  readonly before: PlannedWork;
  readonly after: PlannedWork;
  /** What the later one cannot hold, by `taskKey`. */
  readonly leftOut: ReadonlySet<string>;
  readonly difference: PlanDifference;
}

/** `standing` is the plan that stood before the change, `asOf` the minute of the change. */
export function findRipple(before: Company, after: Company, standing: Plan, asOf: Minute): Ripple {
  const progress = new PlanProgress(before, standing, asOf);
  const then = planInOrder(progress.ofSame(), standing, asOf);
  const now = planInOrder(progress.ofChanged(after), standing, asOf);
  const difference = findDifference(after, then.work, now.work, asOf, now.leftOut, before);
  return { before: then.work, after: now.work, leftOut: now.leftOut, difference };
}

/** With what has gone by of the plan's own work, so that a task has all its days. */
function planInOrder(
  { company, past }: DoneByPlan,
  standing: Plan,
  asOf: Minute,
): { readonly work: PlannedWork; readonly leftOut: ReadonlySet<string> } {
  const recovery = new Recovery(company, asOf, standing);
  const solved = holdOrder(recovery, recovery.plain);
  return { work: collectWork([...past, ...listSpans(solved)]), leftOut: listLeftOut(solved) };
}
