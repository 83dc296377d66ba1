/** Seeded numbers: mulberry32, the same on every machine. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Random } from "../../../src/planner/core/random.js";

/** The algorithm once more, in whole numbers of any size, reduced to 32 bits after each step. */
function* mulberry32(seed: number): Generator<number> {
  const low = (n: bigint) => n & 0xffff_ffffn;
  let state = low(BigInt(seed));
  for (;;) {
    state = low(state + 0x6d2b_79f5n);
    let mixed = low((state ^ (state >> 15n)) * (state | 1n));
    mixed = low(mixed ^ low(mixed + low((mixed ^ (mixed >> 7n)) * (mixed | 61n))));
    yield Number(mixed ^ (mixed >> 14n)) / 2 ** 32;
  }
}

const take = (numbers: { next: () => number }, count: number) =>
  Array.from({ length: count }, () => numbers.next());

describe("seeded random numbers", () => {
  it("are those of the plain algorithm for any seed", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 ** 32 - 1 }), (seed) => {
        const plain = mulberry32(seed);
        expect(take(new Random(seed), 20)).toEqual(Array.from({ length: 20 }, () => plain.next().value));
      }),
    );
  });

  it("never change: the first three of seed 1", () => {
    expect(take(new Random(1), 3)).toEqual([0.6270739405881613, 0.002735721180215478, 0.5274470399599522]);
  });

  it("are at least 0 and less than 1, and fill that range evenly", () => {
    const numbers = take(new Random(42), 10_000);
    const tenths = numbers.reduce((counts, number) => {
      const tenth = Math.floor(number * 10);
      return counts.set(tenth, (counts.get(tenth) ?? 0) + 1);
    }, new Map<number, number>());
    expect([...tenths.keys()].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    for (const count of tenths.values()) expect(Math.abs(count - 1000)).toBeLessThan(150);
  });

  it("below a number are whole, and every one of them comes", () => {
    const random = new Random(7);
    const seen = new Set(Array.from({ length: 200 }, () => random.below(6)));
    expect([...seen].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5]);
  });
});
