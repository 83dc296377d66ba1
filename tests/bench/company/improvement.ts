/**
 * What two seconds of search make of the first plan of 2,500 tasks: the cost right after construction against the best
 * of all steps that ended within two seconds, as a mean over several companies. The plans at the end are checked. The
 * cost after the first step is told too: it shows how much comes from another priority rule, before any search.
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
    ({ before, first, after, steps }) =>
      `${before.toFixed(0)}, after one step ${first.toFixed(0)}, after ${steps} steps ${after.toFixed(0)}`,
  );
  return {
    value: lowered.reduce((sum, percent) => sum + percent, 0) / COMPANIES,
    more: `mean of ${COMPANIES} companies: ${costs.join("; ")}`,
    faults,
  };
}

/** Plans, then steps for so many seconds. A step that ends later is not counted. */
export function improve(company: Company, seconds: number) {
  const search = new PlanSearch(company, { asOf: AS_OF, seed: 1, iterations: 1_000_000_000 });
  const before = search.cost;
  const deadline = performance.now() + seconds * 1000;
  let first = before;
  let after = before;
  let steps = 0;
  while (performance.now() < deadline && search.step()) {
    if (performance.now() > deadline) break;
    steps += 1;
    after = search.cost;
    if (steps === 1) first = after;
  }
  return { search, before, first, after, steps };
}
