/** Shares of a chain's task (reading 13): whole minutes, unit by unit, that add up exactly. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shareMinutes } from "../../../src/planner/core/chain-placer.js";
import type { Chain } from "../../../src/planner/core/problem.js";

/** A chain of one task with hours left in each unit. */
function chainOf(hours: readonly number[]): Chain {
  const before = [0];
  for (const hour of hours) before.push((before.at(-1) ?? 0) + hour);
  return {
    firstUnit: 0,
    unitCount: hours.length,
    hoursBefore: [Float64Array.from(before)],
    opener: [true],
    closer: [true],
    inner: [],
    lags: [[]],
    trades: [0],
    openAtStart: hours.map(() => false),
  };
}
const sharesOf = (hours: readonly number[], minutes: number) =>
  hours.map((_, unit) => shareMinutes(chainOf(hours), 0, unit, minutes));

const anyHours = fc
  .array(
    fc.integer({ min: 0, max: 60 }).map((quarters) => quarters / 4),
    { minLength: 1, maxLength: 9 },
  )
  .filter((hours) => hours.some((hour) => hour > 0));

describe("the shares of a task", () => {
  it("add up to its minutes exactly, and none is negative or a fraction", () => {
    fc.assert(
      fc.property(anyHours, fc.integer({ min: 1, max: 5000 }), (hours, minutes) => {
        const shares = sharesOf(hours, minutes);
        expect(shares.reduce((sum, share) => sum + share, 0)).toBe(minutes);
        for (const share of shares) expect(Number.isInteger(share) && share >= 0).toBe(true);
      }),
    );
  });

  it("differ by at most a minute where the hours are equal", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 5000 }), (units, minutes) => {
        const shares = sharesOf(
          Array.from({ length: units }, () => 1.5),
          minutes,
        );
        expect(Math.max(...shares) - Math.min(...shares)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("are cut where the hours are: 100 minutes over three equal units are 33, 33 and 34", () => {
    expect(sharesOf([2, 2, 2], 100)).toEqual([33, 33, 34]);
  });

  it("leave out what has been done", () => {
    expect(sharesOf([0, 1, 2], 90)).toEqual([0, 30, 60]);
  });
});
