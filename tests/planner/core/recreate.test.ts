/** Ruin: which activities of a large problem are given up at a time. */
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import { openProblem } from "../../../src/planner/core/open-problem.js";
import { Random } from "../../../src/planner/core/random.js";
import { ruin } from "../../../src/planner/core/recreate.js";

const DAY = 1440;
const COUNT = 40;

/** Four crews, one activity a day each; every second one follows the one before it. */
const decoder = new OpenDecoder(
  openProblem({
    crewCount: 4,
    equipmentCount: [],
    tasks: Array.from({ length: COUNT }, (_, index) => ({
      crews: [0, 1, 2, 3].map((crew) => ({ crew, minutes: 480 })),
      fixedMinutes: 0,
      equipment: [],
      after: index % 2 === 1 ? [{ task: index - 1, lagMinutes: 0 }] : [],
      notBefore: 0,
    })),
  }),
);
const starts = Int32Array.from({ length: COUNT }, (_, index) => Math.floor(index / 4) * DAY);
const staffing = Int32Array.from({ length: COUNT }, (_, index) => index % 4);
const order = Int32Array.from({ length: COUNT }, (_, index) => index);
const solution = { genome: { order, staffing }, cost: 0, tie: 0, starts, ends: starts };
const movable = [...order].filter((activity) => activity !== 20);

const ruins = Array.from({ length: 200 }, (_, seed) =>
  ruin(decoder, solution, movable, (activity) => staffing[activity] ?? -1, new Random(seed)),
);
const givenUp = (own: Int32Array): number[] => [...own.keys()].filter((activity) => own[activity] === -1);

describe("ruin", () => {
  it("gives up work of one or two crews, within ten days, and leaves all other staffings as they are", () => {
    for (const { genome } of ruins) {
      const given = givenUp(genome.staffing);
      expect(given.length).toBeGreaterThan(0);
      expect(new Set(given.map((activity) => staffing[activity])).size).toBeLessThanOrEqual(2);
      const days = given.map((activity) => (starts[activity] ?? 0) / DAY);
      expect(Math.max(...days) - Math.min(...days)).toBeLessThan(10);
      for (const activity of order)
        if (!given.includes(activity)) expect(genome.staffing[activity]).toBe(staffing[activity]);
    }
  });

  it("never gives up what is fixed", () => {
    for (const { genome } of ruins) expect(genome.staffing[20]).toBe(0);
  });

  it("keeps an order in which everything comes behind what it follows, and changes it now and then", () => {
    let moved = 0;
    for (const { genome } of ruins) {
      const place = new Map([...genome.order].map((activity, at) => [activity, at]));
      expect(place.size).toBe(COUNT);
      for (let activity = 1; activity < COUNT; activity += 2)
        expect(place.get(activity)).toBeGreaterThan(place.get(activity - 1) ?? COUNT);
      if (genome.order.some((activity, at) => activity !== order[at])) moved += 1;
    }
    expect(moved).toBeGreaterThan(20);
  });

  it("leaves the solution that it starts from as it was", () => {
    expect([...staffing]).toEqual([...order].map((index) => index % 4));
    expect([...order]).toEqual([...order].sort((a, b) => a - b));
  });
});
