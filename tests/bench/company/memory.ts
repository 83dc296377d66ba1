/**
 * Peak memory of a process that plans 2,500 tasks, improves the plan for two seconds and explains it: resident set at
 * its highest as the system counts it, Node itself included, in megabytes of a million bytes.
 */
import { improve } from "./improvement.js";
import type { Measured } from "./measure.js";
import { COMPANY_TASKS, sizedCompany } from "./sized-company.js";

export function measureMemory(): Measured {
  const empty = peakMegabytes();
  const { search } = improve(sizedCompany(COMPANY_TASKS, 1), 2);
  const searched = peakMegabytes();
  search.toPlan();
  return {
    value: peakMegabytes(),
    more: `${empty.toFixed(0)} before, ${searched.toFixed(0)} after the search, the rest for explaining`,
    faults: [],
  };
}

/** Node gives it in kibibytes. */
function peakMegabytes(): number {
  return (process.resourceUsage().maxRSS * 1024) / 1e6;
}
