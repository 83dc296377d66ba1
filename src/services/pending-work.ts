/** What a thread has been asked for and has not answered yet, whatever it is. */
import type { PlanningMessage, ThreadRequest } from "./planning-messages.js";

export interface PendingWork {
  readonly request: ThreadRequest;
  readonly promise: Promise<unknown>;
  /** Whether it is neither settled nor asked to stop. */
  readonly isWanted: boolean;
  /** A message of the thread about it. */
  take(message: PlanningMessage): void;
  /** Asks for an end soon. */
  stop(): void;
  /** Ends what no thread has begun. */
  stopUnstarted(): void;
  fail(reason: Error): void;
}

export function toError(value: unknown): Error {
  return value instanceof Error ? value : new Error(String(value));
}
