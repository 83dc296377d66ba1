/**
 * Seeded random numbers: the same on every machine. Algorithm: mulberry32 (public domain, Tommy Ettinger 2017),
 * 32 bits of state; good enough to break ties and pick moves, not for secrets.
 */
export class Random {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  /** 0 ≤ x < 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let mixed = this.state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** 0 ≤ whole number < `below`. */
  below(below: number): number {
    return Math.floor(this.next() * below);
  }
}
