/**
 * Planning off the thread that answers people. Plans are asked for and come one after another, in the order in which
 * they were asked for. Plain worker threads: a stop must bring the best so far, and a pool from a package would stop a
 * task by ending its thread; what is left for a pool to do is a queue.
 */
import { existsSync } from "node:fs";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { FoundWays } from "./found-ways.js";
import { PendingPlan, type PlanningOptions } from "./pending-plan.js";
import { PendingWays } from "./pending-ways.js";
import type { PendingWork } from "./pending-work.js";
import { PlanningLane } from "./planning-lane.js";
import type { WaysOrder } from "./planning-messages.js";

export interface PlanningWorker {
  /**
   * A complete, explained plan. Rejects with `PlanningStopped` when it was stopped before there was one, with the
   * planner's own error where that has a bug, and with a sentence where the thread died.
   */
  plan(company: Company, options: PlanningOptions): Promise<Plan>;
  /** Ways out of what has happened. Rejects as `plan` does. */
  ways(order: WaysOrder): Promise<FoundWays>;
  /** Stops what is under way (it settles with its best so far), drops what waits, ends the threads. */
  close(): Promise<void>;
}

export interface PlanningWorkerOptions {
  /** Plans made at the same time; 1 where left out, which leaves the other core of a small machine to the pages. */
  readonly threads?: number;
  /** The file that a thread runs; the built one where left out. */
  readonly entry?: URL;
}

const BESIDE = new URL("planning-thread.js", import.meta.url);
/** A thread runs a built file: the one beside this file, or, where this one is run from src, the one in dist. */
const ENTRY = existsSync(BESIDE)
  ? BESIDE
  : new URL("../../dist/services/planning-thread.js", import.meta.url);

/** Starts the threads. */
export function startPlanningWorker(options: PlanningWorkerOptions = {}): PlanningWorker {
  return new QueueingWorker(options.threads ?? 1, options.entry ?? ENTRY);
}

class QueueingWorker implements PlanningWorker {
  readonly #lanes: readonly PlanningLane[];
  #waiting: readonly PendingWork[] = [];
  #isClosed = false;

  constructor(threads: number, entry: URL) {
    this.#lanes = Array.from({ length: threads }, () => new PlanningLane(entry, () => this.#fill()));
  }

  plan(company: Company, options: PlanningOptions): Promise<Plan> {
    if (this.#isClosed) return Promise.reject(new Error("Planning has ended: the program is closing down."));
    return this.#wait(new PendingPlan(company, options)).promise;
  }

  ways(order: WaysOrder): Promise<FoundWays> {
    if (this.#isClosed) return Promise.reject(new Error("Planning has ended: the program is closing down."));
    return this.#wait(new PendingWays(order)).promise;
  }

  #wait<P extends PendingWork>(pending: P): P {
    this.#waiting = [...this.#waiting, pending];
    this.#fill();
    return pending;
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    for (const pending of this.#waiting) pending.stopUnstarted();
    this.#waiting = [];
    await Promise.all(this.#lanes.map((lane) => lane.close()));
  }

  /** Gives each free thread the next plan that is still wanted. */
  #fill(): void {
    this.#waiting = this.#waiting.filter((pending) => pending.isWanted);
    for (const lane of this.#lanes) {
      const [next, ...rest] = this.#waiting;
      if (next === undefined) return;
      if (!lane.isFree) continue;
      this.#waiting = rest;
      lane.begin(next);
    }
  }
}
