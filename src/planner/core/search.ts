/**
 * Search over orders and staffings, as a value that is stepped: nobody waits for it longer than a step, whoever steps
 * it decides when to stop, and it always has a best so far.
 */

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

export interface SearchOptions {
  readonly seed: number;
  /** How many schedules there will be, where that is known: never more are decoded, and it sets the pace. */
  readonly schedules?: number;
  /** A genome to begin with; the best is never worse than what the decoder makes of it. */
  readonly from?: Genome;
  /** Activities whose place and staffing the decoder decides: nothing to try there. */
  readonly fixed?: ReadonlySet<number>;
  /** A cost that no schedule can beat: the search is done when it is met. */
  readonly bound?: number;
}

export interface Search {
  /** Schedules decoded so far, backward passes included. */
  readonly schedules: number;
  /** The best so far; the decoder makes exactly this of its genome. */
  readonly best: Solution;
  /** Works on for a while (at most one schedule); false when there is nothing left to try. */
  step(): boolean;
}

/** Whether one schedule is cheaper than another, or as cheap with the lower tie. */
export function isBetter(one: Pick<Decoded, "cost" | "tie">, two: Pick<Decoded, "cost" | "tie">): boolean {
  return one.cost < two.cost || (one.cost === two.cost && one.tie < two.tie);
}
