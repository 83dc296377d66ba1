/**
 * Moves by hand planned off the thread that answers people, in a thread of their own: whoever drags something over the
 * board does not wait for a search. The thread is started with the first move; one that dies fails what it was asked,
 * and the next request gets a new one.
 */
import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Result } from "../domain/result.js";
import type { MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import type { MovedPlan, MoveOptions } from "../planner/moving/move-task.js";

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

export interface MoveRequest {
  readonly id: number;
  readonly order: MoveOrder;
  readonly withPlan: boolean;
}

export type MoveAnswer =
  | { readonly id: number; readonly result: Result<MoveFound, MoveRefusal> }
  | { readonly id: number; readonly error: unknown };

const BESIDE = new URL("move-thread.js", import.meta.url);
/** A thread runs a built file: the one beside this file, or, where this one is run from src, the one in dist. */
const ENTRY = existsSync(BESIDE) ? BESIDE : new URL("../../dist/services/move-thread.js", import.meta.url);

interface Asked {
  readonly resolve: (result: Result<MoveFound, MoveRefusal>) => void;
  readonly reject: (error: unknown) => void;
}

export class MovePlanner {
  #worker: Worker | undefined;
  #lastId = 0;
  readonly #asked = new Map<number, Asked>();
  #isClosed = false;

  /** Rejects where the planner has a bug or its thread has died. */
  plan(order: MoveOrder, withPlan: boolean): Promise<Result<MoveFound, MoveRefusal>> {
    if (this.#isClosed) return Promise.reject(new Error("Planning has ended: the program is closing down."));
    this.#worker ??= this.#start();
    const worker = this.#worker;
    this.#lastId += 1;
    const id = this.#lastId;
    worker.ref();
    return new Promise((resolve, reject) => {
      this.#asked.set(id, { resolve, reject });
      worker.postMessage({ id, order, withPlan } satisfies MoveRequest, []);
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#worker?.terminate();
  }

  #start(): Worker {
    const worker = new Worker(ENTRY, { name: "moves" });
    let failure: unknown;
    worker.on("message", (answer: MoveAnswer) => {
      const asked = this.#asked.get(answer.id);
      this.#asked.delete(answer.id);
      // An idle thread keeps no process alive.
      if (this.#asked.size === 0) worker.unref();
      if ("error" in answer) asked?.reject(answer.error);
      else asked?.resolve(answer.result);
    });
    worker.on("error", (error) => (failure = error));
    worker.on("exit", (code) => {
      if (this.#worker === worker) this.#worker = undefined;
      const why = failure instanceof Error ? failure.message : `it left with code ${code}`;
      const asked = [...this.#asked.values()];
      this.#asked.clear();
      for (const { reject } of asked) {
        reject(new Error(`The thread that was planning a move has ended: ${why}.`, { cause: failure }));
      }
    });
    worker.unref();
    return worker;
  }
}
