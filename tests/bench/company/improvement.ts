/**
 * What two seconds of search make of the constructive plan of 2,500 tasks: the cost right after construction against
 * the best after two seconds of steps, as a mean over several companies. The plans at the end are checked.
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
  const lowered = runs.map(({ before, after }) => ((before - after) / before) * 100);
  const faults = runs.flatMap(({ company, search, before, after }) => [
    ...listPlanFaults(company, search.toPlan()),
    ...(after > before ? [`the cost rose from ${before} to ${after}`] : []),
  ]);
  const costs = runs.map(
    ({ before, after, steps }) => `${before.toFixed(0)} to ${after.toFixed(0)} in ${steps} steps`,
  );
  return {
    value: lowered.reduce((sum, percent) => sum + percent, 0) / COMPANIES,
    more: `mean of ${COMPANIES} companies: ${costs.join(", ")}`,
    faults,
  };
}

/** Plans, then steps for so many seconds. */
export function improve(company: Company, seconds: number) {
  const search = new PlanSearch(company, { asOf: AS_OF, seed: 1, iterations: 1_000_000_000 });
  const before = search.cost;
  const deadline = performance.now() + seconds * 1000;
  let steps = 0;
  while (performance.now() < deadline && search.step()) steps += 1;
  return { search, before, after: search.cost, steps };
}
