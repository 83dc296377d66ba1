/**
 * Whether a child that is worse than its father may take his place: simulated annealing (Kirkpatrick, Gelatt and Vecchi
 * 1983), in units of the deterioration that children usually show, so that it means the same in minutes and in money.
 */
import type { Random } from "../random.js";

/** Temperature at the beginning, as a share of the usual deterioration. */
const WARMTH = 0.3;
/** Weight of the newest deterioration in the running mean. */
const NEWEST = 0.02;

export class Cooling {
  private usual = 0;

  constructor(private readonly random: Random) {}

  /** `worse` is by how much the child costs more; `spent` the share of the time that is over, 0 to 1. */
  accepts(worse: number, spent: number): boolean {
    if (worse <= 0) return true;
    this.usual = this.usual === 0 ? worse : this.usual + NEWEST * (worse - this.usual);
    const temperature = WARMTH * this.usual * (1 - spent);
    return temperature > 0 && this.random.next() < Math.exp(-worse / temperature);
  }
}
