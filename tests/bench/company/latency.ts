/**
 * First-plan latency: from a parsed company to a complete first plan (compiled, placed, costed), after warm-up. Every
 * round is another company of the same size. Explaining the plan for people is timed apart.
 */
import { compile } from "../../../src/planner/compile/compile.js";
import { PlanSearch } from "../../../src/planner/plan.js";
import { listPlanFaults, medianOf, timed, type Measured } from "./measure.js";
import { AS_OF, COMPANY_TASKS, sizedCompany } from "./sized-company.js";

const WARM_UPS = 3;
const ROUNDS = 9;
/** The planner's own horizon: three years. Only for the part of the time that goes into compiling. */
const HORIZON_DAYS = 3 * 366;

export function measureLatency(): Measured {
  const first: number[] = [];
  const explained: number[] = [];
  const compiled: number[] = [];
  const faults: string[] = [];
  for (let round = -WARM_UPS; round < ROUNDS; round++) {
    const company = sizedCompany(COMPANY_TASKS, 1000 + round);
    const options = { asOf: AS_OF, seed: 1, iterations: 1 };
    const search = timed(() => new PlanSearch(company, options));
    const plan = timed(() => search.made.toPlan());
    // Another company again: the one above would find its light already known.
    const other = sizedCompany(COMPANY_TASKS, 2000 + round);
    const alone = timed(() => compile(other, AS_OF, HORIZON_DAYS));
    if (round < 0) continue;
    first.push(search.milliseconds);
    explained.push(plan.milliseconds);
    compiled.push(alone.milliseconds);
    if (round === 0) faults.push(...listPlanFaults(company, plan.made));
  }
  return {
    value: medianOf(first),
    more:
      `median of ${ROUNDS}, ${Math.min(...first).toFixed(0)} to ${Math.max(...first).toFixed(0)}; ` +
      `compiling ${medianOf(compiled).toFixed(0)} of it; explaining the plan takes ${medianOf(explained).toFixed(0)} more`,
    faults,
  };
}
