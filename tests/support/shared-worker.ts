/**
 * One planning worker for all desks of a test process: to start a thread takes longer than most tests. It is started by
 * the first desk and ends with the process.
 */
import { startPlanningWorker, type PlanningWorker } from "../../src/services/planning-worker.js";

let worker: PlanningWorker | undefined;

export function sharedWorker(): PlanningWorker {
  return (worker ??= startPlanningWorker());
}
