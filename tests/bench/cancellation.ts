/**
 * How long a stop of a search is waited for: from the abort to the plan in hand, on a company of 2,500 tasks and 40
 * crews, at moments spread over the search. The bar is 50 ms.
 */
import { parseCompany } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { civilDate, parseInstant } from "../../src/domain/time.js";
import { startPlanningWorker, type PlanningWorker } from "../../src/services/planning-worker.js";
import type { Company } from "../../src/domain/company-schema.js";
import { bigCompany } from "./big-company.js";

/** Of search before each stop, counted from its first plan. */
const STOPPED_AFTER_MS = [0, 10, 35, 90, 150, 220, 310, 450, 700, 1_000, 1_500, 2_000];

/** Milliseconds from each stop to its plan. One search for each; a fresh worker, warmed up by one plan. */
export async function measureCancellation(): Promise<number[]> {
  const firstDate = civilDate("2027-01-04");
  const source = bigCompany({ crews: 40, jobs: 150, tasks: 2_500, firstDate, days: 330, seed: 1 });
  const parsed = parseCompany(source);
  const company = present(parsed.ok ? parsed.value : undefined, "a big company without a fault");
  const worker = startPlanningWorker();
  try {
    await stopAfter(worker, company, 0);
    const waited: number[] = [];
    for (const milliseconds of STOPPED_AFTER_MS) waited.push(await stopAfter(worker, company, milliseconds));
    return waited;
  } finally {
    await worker.close();
  }
}

async function stopAfter(worker: PlanningWorker, company: Company, milliseconds: number): Promise<number> {
  const asOf = present(parseInstant("2027-01-03T18:00", company.company.timeZone), "the evening before");
  const stop = new AbortController();
  let stoppedAt = NaN;
  let isBegun = false;
  const onProgress = (): void => {
    if (isBegun) return;
    isBegun = true;
    setTimeout(() => {
      stoppedAt = performance.now();
      stop.abort();
    }, milliseconds);
  };
  await worker.plan(company, { asOf, seed: 1, milliseconds: 3_600_000, onProgress, signal: stop.signal });
  return performance.now() - stoppedAt;
}
