/** What is published now: who made it the promise, when and why, and the plan that it was. */
import type { Plan } from "../domain/plan-format.js";
import type { Queries } from "../store/database.js";
import { findFirstPlan } from "../store/plan-store.js";
import { findPublishingChange, type PublishingChange } from "../store/publication-store.js";
import { toPlan } from "./desk-plans.js";

export interface Publication extends PublishingChange {
  /** As it stood when it was published; null where it came with a company file, which has its blocks alone. */
  readonly plan: Plan | null;
}

/** Kinds of changes that bring what is published with a whole company. */
const WITHOUT_PLAN: ReadonlySet<string> = new Set(["company-loaded", "restored"]);

/** Undefined where nobody has published; `known` is what was found before, and spares reading its plan again. */
export async function findPublication(
  queries: Queries,
  known: Publication | null,
): Promise<Publication | null> {
  const change = await findPublishingChange(queries);
  if (change === undefined) return null;
  if (known?.version === change.version && known.madeAt.getTime() === change.madeAt.getTime()) {
    return { ...change, plan: known.plan };
  }
  const kept = WITHOUT_PLAN.has(change.kind) ? undefined : await findFirstPlan(queries, change.version);
  return { ...change, plan: kept === undefined ? null : toPlan(kept) };
}
