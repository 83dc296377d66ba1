/** What the bench and the process that solves instances say to each other. */
import type { Family } from "./families.js";
import type { Budget, Solved } from "./judge.js";

export interface SolveMessage {
  readonly path: string;
  readonly family: Family;
  readonly budget: Budget;
  readonly seed: number;
}

export interface SolveReply {
  readonly criticalPathMinutes: number | undefined;
  readonly solved: Solved;
}

/** An answer that does not count. */
export function toFailure(why: string): SolveReply {
  return {
    criticalPathMinutes: undefined,
    solved: { makespan: 0, schedules: 0, seconds: 0, faults: [why] },
  };
}
