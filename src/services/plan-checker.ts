/**
 * Plans read against the rules off the thread that answers people: of a plan of 2,500 tasks the checker takes seconds.
 * Each plan gets a thread of its own, so that nobody waits behind a search; what was found of a plan is remembered with
 * it, and whoever asks again meanwhile gets the same answer.
 */
import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { PlanToCheck } from "./plan-check-thread.js";

/** Every rule that a plan breaks, in sentences; empty for a good one. Rejects where the checker itself has a bug. */
export type CheckPlan = (company: Company, plan: Plan) => Promise<readonly string[]>;

const BESIDE = new URL("plan-check-thread.js", import.meta.url);
/** A thread runs a built file: the one beside this file, or, where this one is run from src, the one in dist. */
const ENTRY = existsSync(BESIDE)
  ? BESIDE
  : new URL("../../dist/services/plan-check-thread.js", import.meta.url);

/** Begins to check plans, each once. */
export function makePlanChecker(): CheckPlan {
  const known = new WeakMap<
    Plan,
    { readonly company: Company; readonly broken: Promise<readonly string[]> }
  >();
  return (company, plan) => {
    const found = known.get(plan);
    if (found?.company === company) return found.broken;
    const broken = checkInThread({ company, plan });
    known.set(plan, { company, broken });
    // What failed is tried again by whoever asks next.
    broken.catch(() => known.delete(plan));
    return broken;
  };
}

function checkInThread(workerData: PlanToCheck): Promise<readonly string[]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(ENTRY, { name: "plan-check", workerData });
    worker.once("message", (broken: readonly string[]) => resolve(broken));
    worker.once("error", reject);
    worker.once("exit", (code) =>
      reject(new Error(`The thread that checked a plan has ended with code ${code} before it answered.`)),
    );
  });
}
