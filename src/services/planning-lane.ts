/**
 * One thread and the one plan that it is making. A thread that dies takes its plan with it and nothing else: whoever
 * waits is told, and the next plan gets a new thread.
 */
import { Worker } from "node:worker_threads";
import { invariant } from "../domain/result.js";
import type { PendingWork } from "./pending-work.js";
import type { PlanningMessage } from "./planning-messages.js";

/** Messages that end a request. */
const LAST: ReadonlySet<PlanningMessage["kind"]> = new Set(["done", "ways", "failed"]);

export class PlanningLane {
  #worker: Worker | undefined;
  #pending: PendingWork | undefined;
  readonly #entry: URL;
  readonly #onFree: () => void;

  /** Starts the thread at once, so that the first plan does not wait for it; an idle thread keeps no process alive. */
  constructor(entry: URL, onFree: () => void) {
    this.#entry = entry;
    this.#onFree = onFree;
    this.#worker = this.#startWorker();
  }

  get isFree(): boolean {
    return this.#pending === undefined;
  }

  begin(pending: PendingWork): void {
    invariant(this.#pending === undefined, "a thread makes one plan at a time");
    this.#pending = pending;
    this.#worker ??= this.#startWorker();
    this.#worker.ref();
    this.#worker.postMessage(pending.request, []);
  }

  /** Lets the plan under way have its end, which is soon, and then ends the thread in whatever it is in the middle of. */
  async close(): Promise<void> {
    const pending = this.#pending;
    pending?.stop();
    await pending?.promise.catch(() => undefined);
    await this.#worker?.terminate();
  }

  #startWorker(): Worker {
    const worker = new Worker(this.#entry, { name: "planning" });
    let failure: unknown;
    worker.on("message", (message: PlanningMessage) => {
      this.#pending?.take(message);
      if (LAST.has(message.kind)) this.#release(worker);
    });
    worker.on("error", (error) => (failure = error));
    worker.on("exit", (code) => {
      if (this.#worker === worker) this.#worker = undefined;
      this.#pending?.fail(makeEndedError(code, failure));
      this.#release(worker);
    });
    worker.unref();
    return worker;
  }

  #release(worker: Worker): void {
    if (this.#pending === undefined) return;
    this.#pending = undefined;
    worker.unref();
    this.#onFree();
  }
}

function makeEndedError(code: number, cause: unknown): Error {
  const why = cause instanceof Error ? cause.message : `it left with code ${code}`;
  return new Error(`The thread that was planning has ended before its plan was made: ${why}. Plan again.`, {
    cause,
  });
}
