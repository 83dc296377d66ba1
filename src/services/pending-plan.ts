/**
 * A plan that somebody waits for while another thread makes it: from the request to the plan, the stop or the failure.
 * After a stop the thread has a moment to hand over its best; when it is in the middle of something longer, the last
 * draft is the answer, so that a stop is never waited for.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Minute } from "../domain/time.js";
import { toError, type PendingWork } from "./pending-work.js";
import {
  DROP,
  STOP,
  type PlanningBudget,
  type PlanningMessage,
  type PlanningProgress,
  type PlanningRequest,
} from "./planning-messages.js";

/** How long a stopped thread may take for its best; the rest of 50 ms is for reading a large plan that comes late. */
const HAND_OVER_MS = 15;

export interface PlanningOptions extends PlanningBudget {
  /** Nothing is planned before. */
  readonly asOf: Minute;
  readonly seed: number;
  /** A plan that stands, to begin with: what comes out keeps to its crews and order where nothing better is found. */
  readonly from?: Plan;
  /** Told at most ten times a second, and no more after a stop; the first time says that there is a plan to stop at. */
  readonly onProgress?: (progress: PlanningProgress) => void;
  /** Stops the search; the best plan so far is the result. */
  readonly signal?: AbortSignal;
}

/** Planning was stopped before there was any plan. */
export class PlanningStopped extends Error {
  constructor() {
    super("Planning was stopped before there was a first plan.");
    this.name = "PlanningStopped";
  }
}

export class PendingPlan implements PendingWork {
  readonly promise: Promise<Plan>;
  readonly request: PlanningRequest;
  readonly #flag: Int32Array;
  readonly #options: PlanningOptions;
  readonly #onStop = (): void => this.stop();
  #resolve: (plan: Plan) => void = () => undefined;
  #reject: (reason: Error) => void = () => undefined;
  #draft: Plan | undefined;
  #state: "waiting" | "stopping" | "settled" = "waiting";
  #patience: NodeJS.Timeout | undefined;

  constructor(company: Company, options: PlanningOptions) {
    const { asOf, seed, from, iterations, milliseconds, signal } = options;
    const flag = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT);
    const budget = {
      ...(iterations !== undefined && { iterations }),
      ...(milliseconds !== undefined && { milliseconds }),
    };
    this.request = {
      kind: "plan",
      company,
      asOf,
      seed,
      budget,
      flag,
      canStop: signal !== undefined,
      ...(from && { from }),
    };
    this.#flag = new Int32Array(flag);
    this.#options = options;
    this.promise = new Promise((resolve, reject) => {
      this.#resolve = resolve;
      this.#reject = reject;
    });
    signal?.addEventListener("abort", this.#onStop, { once: true });
    if (signal?.aborted === true) this.stopUnstarted();
  }

  /** Whether it is neither settled nor asked to stop. */
  get isWanted(): boolean {
    return this.#state === "waiting";
  }

  /** A message of the thread about this plan. */
  take(message: PlanningMessage): void {
    if (this.#state === "settled") return;
    // Read at once and not at the stop: reading a large plan takes a third of the time that a stop may take.
    if (message.kind === "draft") this.#draft = readPlan(message.planText);
    else if (message.kind === "progress") this.#tell(message.progress);
    else if (message.kind === "failed") this.fail(toError(message.error));
    else if (message.kind === "done")
      this.#settleWith(message.planText === null ? this.#draft : readPlan(message.planText));
  }

  /** Asks the thread to stop; settles soon, with or without its answer. */
  stop(): void {
    if (this.#state !== "waiting") return;
    this.#state = "stopping";
    Atomics.store(this.#flag, 0, STOP);
    this.#patience = setTimeout(() => {
      Atomics.store(this.#flag, 0, DROP);
      this.#settleWith(this.#draft);
    }, HAND_OVER_MS);
  }

  /** Stops a plan that no thread has begun. */
  stopUnstarted(): void {
    this.fail(new PlanningStopped());
  }

  fail(reason: Error): void {
    if (this.#end()) this.#reject(reason);
  }

  #tell(progress: PlanningProgress): void {
    if (this.#state === "waiting") this.#options.onProgress?.(progress);
  }

  #settleWith(plan: Plan | undefined): void {
    if (!this.#end()) return;
    if (plan === undefined) this.#reject(new PlanningStopped());
    else this.#resolve(plan);
  }

  /** False where this plan had its end already. */
  #end(): boolean {
    if (this.#state === "settled") return false;
    this.#state = "settled";
    clearTimeout(this.#patience);
    this.#options.signal?.removeEventListener("abort", this.#onStop);
    return true;
  }
}

function readPlan(planText: string): Plan {
  // The thread wrote this text from a Plan, all of which is JSON by its format.
  return JSON.parse(planText) as Plan;
}
