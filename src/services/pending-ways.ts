/**
 * Ways out that somebody waits for while another thread makes them. They take well under a second and have no best so
 * far, so that whoever stops them waits for their end.
 */
import type { FoundWays } from "./found-ways.js";
import { toError, type PendingWork } from "./pending-work.js";
import { PlanningStopped } from "./pending-plan.js";
import type { PlanningMessage, WaysOrder, WaysRequest } from "./planning-messages.js";

export class PendingWays implements PendingWork {
  readonly request: WaysRequest;
  readonly promise: Promise<FoundWays>;
  #isSettled = false;
  #resolve: (found: FoundWays) => void = () => undefined;
  #reject: (reason: Error) => void = () => undefined;

  constructor(order: WaysOrder) {
    this.request = { kind: "ways", ...order };
    this.promise = new Promise((resolve, reject) => {
      this.#resolve = resolve;
      this.#reject = reject;
    });
  }

  get isWanted(): boolean {
    return !this.#isSettled;
  }

  take(message: PlanningMessage): void {
    if (message.kind === "failed") this.fail(toError(message.error));
    else if (message.kind === "ways") {
      this.#isSettled = true;
      // Proof of the cast: the thread wrote this text from a FoundWays, all of which is JSON.
      this.#resolve(JSON.parse(message.text) as FoundWays);
    }
  }

  stop(): void {
    // Its end is near.
  }

  stopUnstarted(): void {
    this.fail(new PlanningStopped());
  }

  fail(reason: Error): void {
    this.#isSettled = true;
    this.#reject(reason);
  }
}
