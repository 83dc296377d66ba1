/**
 * A plan as it stands once it is what is published: the same work at the same times. Nothing of it is a change any more,
 * and nothing that was published is not kept. Nothing is planned for that: where work is published, it keeps its day,
 * and planning around it might move what is not held.
 */
import type { Policy } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";

/** `plan` costs its changes by `policy`. */
export function toStillPlan(plan: Plan, policy: Policy): Plan {
  const { cost } = plan;
  const total = cost.changes === 0 ? cost.total : cost.total - cost.changes * policy.cost.change;
  return { ...plan, unkept: [], cost: { ...cost, changes: 0, total } };
}
