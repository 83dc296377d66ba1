/**
 * Moves by hand planned off the thread that answers people, in a thread of their own: whoever drags something over the
 * board does not wait for a search.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Result } from "../domain/result.js";
import type { MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import type { MovedPlan, MoveOptions } from "../planner/moving/move-task.js";
import { AskedThread, threadFile } from "./asked-thread.js";

export interface MoveOrder extends MoveOptions {
  readonly company: Company;
  readonly wish: MoveWish;
}

/** What a move means; plain data. */
export interface MoveFound extends Omit<MovedPlan, "work" | "explain"> {
  /** Of all work and the cost of the plan: an equal one is the same plan. */
  readonly digest: string;
  /** Null where it was not asked for: explaining it takes longer than finding it. */
  readonly plan: Plan | null;
}

export interface MoveQuestion {
  readonly order: MoveOrder;
  readonly withPlan: boolean;
}

export type MoveAnswer = Result<MoveFound, MoveRefusal>;

export class MovePlanner {
  readonly #thread = new AskedThread<MoveQuestion, MoveAnswer>(threadFile("move-thread"), "planning a move");

  /** Rejects where the planner has a bug or its thread has died. */
  plan(order: MoveOrder, withPlan: boolean): Promise<MoveAnswer> {
    return this.#thread.ask({ order, withPlan });
  }

  close(): Promise<void> {
    return this.#thread.close();
  }
}
