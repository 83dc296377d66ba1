/**
 * What two seconds of search make of the first plan of 2,500 tasks: the cost right after construction against the best
 * of all steps that ended within two seconds, as a mean over several companies. The plans at the end are checked. The
 * first plan is made to be quick, and the first steps are other priority rules: so what is lowered against the best of
 * the rules is told too. That alone is what the search has found.
 */
import type { Company } from "../../../src/domain/company-schema.js";
import { PlanSearch } from "../../../src/planner/plan.js";
import { listPlanFaults, type Measured } from "./measure.js";
import { AS_OF, COMPANY_TASKS, sizedCompany } from "./sized-company.js";

const COMPANIES = 3;
const SECONDS = 2;

export function measureImprovement(): Measured {
  improve(sizedCompany(COMPANY_TASKS, 99), 0.5);
  const runs = Array.from({ length: COMPANIES }, (_, index) => {
    const company = sizedCompany(COMPANY_TASKS, 1 + index);
    return { company, ...improve(company, SECONDS) };
  });
  const faults = runs.flatMap(({ company, search, before, after }) => [
    ...listPlanFaults(company, search.toPlan()),
    ...(after > before ? [`the cost rose from ${before} to ${after}`] : []),
  ]);
  const bySearch = meanLowered(runs.map(({ byRules, after }) => ({ from: byRules, to: after })));
  const costs = runs.map(
    ({ before, byRules, rules, after, schedules }) =>
      `first ${before.toFixed(0)}, best of ${rules} rules ${byRules.toFixed(0)}, ` +
      `best of ${schedules} schedules ${after.toFixed(0)}`,
  );
  return {
    value: meanLowered(runs.map(({ before, after }) => ({ from: before, to: after }))),
    more: `against the first plan; against the best priority rule ${bySearch.toFixed(1)} %; ${costs.join("; ")}`,
    faults,
  };
}

/** In percent of the former. */
function meanLowered(costs: readonly { readonly from: number; readonly to: number }[]): number {
  return costs.reduce((sum, { from, to }) => sum + ((from - to) / from) * 100, 0) / costs.length;
}

/** Plans, then steps for so many seconds. A step that ends later is not counted. */
export function improve(company: Company, seconds: number) {
  const search = new PlanSearch(company, { asOf: AS_OF, seed: 1, iterations: 1_000_000_000 });
  const before = search.cost;
  const deadline = performance.now() + seconds * 1000;
  let byRules = before;
  let rules = 1;
  let after = before;
  let schedules = 1;
  for (;;) {
    const rulesWereThrough = search.hasTriedRules;
    if (performance.now() > deadline || !search.step() || performance.now() > deadline) break;
    after = search.cost;
    schedules = search.iteration;
    if (rulesWereThrough) continue;
    byRules = after;
    rules = schedules;
  }
  return { search, before, byRules, rules, after, schedules };
}
