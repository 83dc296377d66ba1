/**
 * A planning worker in the hands of a test: a plan that a person waits for is made at once by the planner, and a search
 * that may be stopped goes on until the test says what comes of it.
 */
import type { Company } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { planCompany } from "../../src/planner/plan.js";
import { findWays, type FoundWays } from "../../src/services/found-ways.js";
import { PlanningStopped, type PlanningOptions } from "../../src/services/pending-plan.js";
import type { WaysOrder } from "../../src/services/planning-messages.js";
import type { PlanningWorker } from "../../src/services/planning-worker.js";

/** A search that goes on. */
export interface ScriptedSearch {
  readonly company: Company;
  readonly options: PlanningOptions;
  readonly tell: NonNullable<PlanningOptions["onProgress"]>;
  readonly find: (plan: Plan) => void;
  readonly fail: (error: Error) => void;
}

export class ScriptedWorker implements PlanningWorker {
  /** All that were begun, in order. */
  readonly searches: ScriptedSearch[] = [];
  /** Held back while it is set: quick plans wait for it. */
  gate: Promise<unknown> = Promise.resolve();
  /** The next quick plan fails with it. */
  failure: Error | undefined;
  isClosed = false;

  async plan(company: Company, options: PlanningOptions): Promise<Plan> {
    const { signal, onProgress } = options;
    if (signal !== undefined) {
      return new Promise((find, fail) => {
        const tell: ScriptedSearch["tell"] = (progress) => onProgress?.(progress);
        signal.addEventListener("abort", () => fail(new PlanningStopped()));
        this.searches.push({ company, options, tell, find, fail });
      });
    }
    await this.gate;
    const { failure } = this;
    this.failure = undefined;
    if (failure !== undefined) throw failure;
    return planCompany(company, {
      asOf: options.asOf,
      seed: options.seed,
      iterations: options.iterations ?? 1,
    });
  }

  ways(order: WaysOrder): Promise<FoundWays> {
    return Promise.resolve(findWays(order));
  }

  close(): Promise<void> {
    this.isClosed = true;
    return Promise.resolve();
  }
}
