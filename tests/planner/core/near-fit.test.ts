/** Pulling a critical activity to where it nearly fits. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import { openProblem, type OpenTimeTask } from "../../../src/planner/core/open-problem.js";
import { findOverload, pullToNearFit } from "../../../src/planner/core/population/near-fit.js";
import { TopologicalOrder } from "../../../src/planner/core/population/topological-order.js";
import { Random } from "../../../src/planner/core/random.js";
import { liftTask } from "../../support/lift-task.js";
import { anyOpenInput } from "../../support/open-problem-arbitrary.js";
import { propertySeed } from "../../support/property-seed.js";

const decoderOf = (...tasks: readonly OpenTimeTask[]): OpenDecoder =>
  new OpenDecoder(openProblem({ crewCount: 0, equipmentCount: [2], tasks }));

const childOf = (keys: readonly number[]) => ({
  keys: Float64Array.from(keys),
  staffing: new Int32Array(keys.length),
});

describe("the overload of a place", () => {
  // Both lifts are taken from 0 to 4, one of them from 4 to 6; the last takes one lift for 3 minutes.
  const decoder = decoderOf(liftTask(4, 2), liftTask(2, 1), liftTask(3, 1));
  const child = childOf([0, 4, 6]);

  it("is nothing where there is room", () => {
    expect(findOverload(decoder, child, { activity: 2, choice: 0, from: 4 })).toBe(0);
  });

  it("is the share of the lifts that is missing, times the minutes for which it is", () => {
    expect(findOverload(decoder, child, { activity: 2, choice: 0, from: 1 })).toBe(0.5 * 3);
    expect(findOverload(decoder, child, { activity: 2, choice: 0, from: 3 })).toBe(0.5 * 1);
  });

  it("counts a crew that would be in two places for each minute of it", () => {
    const byCrew = (minutes: number): OpenTimeTask => ({
      ...liftTask(0, 0),
      crews: [{ crew: 0, minutes }],
      equipment: [],
    });
    const crewed = new OpenDecoder(
      openProblem({ crewCount: 1, equipmentCount: [], tasks: [byCrew(4), byCrew(5)] }),
    );
    expect(findOverload(crewed, childOf([0, 4]), { activity: 1, choice: 0, from: 1 })).toBe(3);
  });

  it("is nothing for each activity where a decoder has put it", () => {
    fc.assert(
      fc.property(anyOpenInput(), (input) => {
        const decoder = new OpenDecoder(openProblem(input));
        const staffing = new Int32Array(decoder.count);
        decoder.decode(new TopologicalOrder(decoder).from(decoder.tails, false), staffing, false);
        const child = { keys: Float64Array.from(decoder.start), staffing };
        for (const [activity, from] of child.keys.entries()) {
          expect(findOverload(decoder, child, { activity, choice: 0, from })).toBe(0);
        }
      }),
      { seed: propertySeed(53), numRuns: 200 },
    );
  });
});

describe("a pull to a near fit", () => {
  it("takes the place at which the fewest others have to make room for each minute gained", () => {
    // The last could start at 2, where one lift is free, or at 3, where none is.
    const decoder = decoderOf(liftTask(2, 2), liftTask(1, 1), liftTask(1, 2), liftTask(1, 1, [0]));
    for (let seed = 1; seed <= 8; seed++) {
      const child = childOf([0, 2, 3, 4]);
      expect(pullToNearFit(decoder, child, [3], false, new Random(seed))).toBe(true);
      expect(child.keys[3]).toBe(1.5);
    }
  });

  it("does nothing where no candidate could come earlier, or there is none", () => {
    const decoder = decoderOf(liftTask(4, 1), liftTask(2, 1, [0]));
    const child = childOf([0, 4]);
    expect(pullToNearFit(decoder, child, [0, 1], false, new Random(1))).toBe(false);
    expect(pullToNearFit(decoder, child, [], false, new Random(1))).toBe(false);
    expect([...child.keys]).toEqual([0, 4]);
  });

  it("moves one activity alone, earlier, and never before what it follows has ended", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.nat(), (input, seed) => {
        const decoder = new OpenDecoder(openProblem(input));
        const staffing = new Int32Array(decoder.count);
        decoder.decode(new TopologicalOrder(decoder).from(decoder.tails, false), staffing, false);
        const child = { keys: Float64Array.from(decoder.start), staffing };
        const before = child.keys.slice();
        const isMoved = pullToNearFit(decoder, child, [...before.keys()], false, new Random(seed));
        const moved = [...before.keys()].filter((activity) => child.keys[activity] !== before[activity]);
        expect(moved).toHaveLength(isMoved ? 1 : 0);
        for (const activity of moved) {
          const key = child.keys[activity] ?? 0;
          expect(key).toBeLessThan(before[activity] ?? 0);
          for (const edge of input.tasks[activity]?.after ?? []) {
            expect(key + 0.5).toBeGreaterThanOrEqual((decoder.end[edge.task] ?? 0) + edge.lagMinutes);
          }
        }
      }),
      { seed: propertySeed(54), numRuns: 200 },
    );
  });
});
