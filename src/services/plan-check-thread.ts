/**
 * The thread that reads a plan against the rules: one plan, one answer, and it ends. Started by plan-checker.ts.
 */
import { parentPort, workerData } from "node:worker_threads";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { present } from "../domain/result.js";
import { formatBroken } from "../planner/check/broken-rule.js";
import { checkPlan } from "../planner/check/check-plan.js";

/** What the thread is given. */
export interface PlanToCheck {
  readonly company: Company;
  readonly plan: Plan;
}

// Proof of the cast: only plan-checker.ts starts this thread, and gives it nothing else.
// oxlint-disable-next-line typescript/no-unsafe-type-assertion
const { company, plan } = workerData as PlanToCheck;
const port = present(parentPort, "the process that asks");
port.postMessage(checkPlan(company, plan).map(formatBroken));
