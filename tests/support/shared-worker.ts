/**
 * One planning worker for all desks of a test file: to start a thread takes longer than most tests. It is started by the
 * first desk and closed when the file is over.
 */
import { afterAll } from "vitest";
import { startPlanningWorker, type PlanningWorker } from "../../src/services/planning-worker.js";

let worker: PlanningWorker | undefined;

export function sharedWorker(): PlanningWorker {
  return (worker ??= startPlanningWorker());
}

afterAll(async () => {
  await worker?.close();
  worker = undefined;
});
