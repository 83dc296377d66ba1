/**
 * Search over orders and staffings, as a value that is stepped: nobody waits for it longer than a step, whoever steps
 * it decides when to stop, and it always has a best so far.
 */
import type { Problem } from "./problem.js";

/** What a decoder made of a genome. Lower cost is better; of equal cost, the lower tie. */
export interface Decoded {
  readonly cost: number;
  readonly tie: number;
  /** By activity. */
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** What a decoder is given: activities in an order that respects precedence, and by activity the staffing to use. */
export interface Genome {
  readonly order: Int32Array;
  readonly staffing: Int32Array;
}

export interface Solution extends Decoded {
  readonly genome: Genome;
}

export interface Search {
  readonly problem: Problem;
  /** Schedules decoded so far, backward passes included. */
  readonly schedules: number;
  readonly best: Solution;
  /** Works on for a while (some schedules); false when there is nothing left to try. */
  step(): boolean;
}
