/**
 * The search for a better plan that goes on behind a plan which people already look at: how far it is, and its stop.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { PlanningStopped, type PlanningOptions } from "./pending-plan.js";
import type { PlanningProgress } from "./planning-messages.js";
import type { PlanningWorker } from "./planning-worker.js";

export interface ImprovementOutcome {
  /** Gets what was found, better or not, at the end or at the stop. */
  readonly onFound: (plan: Plan) => void;
  readonly onBug: (error: unknown) => void;
}

export class Improvement {
  /** Resolves when the search is over and its outcome has been told; never rejects. */
  readonly over: Promise<void>;
  readonly #stop = new AbortController();
  #progress: PlanningProgress | null;

  constructor(
    worker: PlanningWorker,
    company: Company,
    shown: Plan,
    options: Omit<PlanningOptions, "signal" | "onProgress">,
    outcome: ImprovementOutcome,
  ) {
    this.#progress = { iteration: 0, cost: shown.cost.total, milliseconds: 0 };
    const onProgress = (progress: PlanningProgress): void => {
      this.#progress = progress;
    };
    this.over = worker.plan(company, { ...options, onProgress, signal: this.#stop.signal }).then(
      (plan) => {
        this.#progress = null;
        outcome.onFound(plan);
      },
      (error: unknown) => {
        this.#progress = null;
        if (!(error instanceof PlanningStopped)) outcome.onBug(error);
      },
    );
  }

  /** Null when it is over. */
  get progress(): PlanningProgress | null {
    return this.#progress;
  }

  stop(): void {
    this.#stop.abort();
  }
}

/** Fewer tasks that cannot be planned, then cheaper. */
export function isBetterPlan(plan: Plan, than: Plan): boolean {
  const left = plan.impossible.length - than.impossible.length;
  return left === 0 ? plan.cost.total < than.cost.total : left < 0;
}
