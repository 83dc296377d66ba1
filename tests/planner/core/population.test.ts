/** The parts of the population search: orders, crossover, small changes, critical links, the parallel scheme, cooling, bounds. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import {
  openProblem,
  type OpenTimeInput,
  type OpenTimeTask,
} from "../../../src/planner/core/open-problem.js";
import { Cooling } from "../../../src/planner/core/population/cooling.js";
import { findCriticalLinks, turnLink } from "../../../src/planner/core/population/critical-link.js";
import { cross } from "../../../src/planner/core/population/crossover.js";
import { findLowerBound } from "../../../src/planner/core/population/lower-bound.js";
import { toKeys } from "../../../src/planner/core/population/member.js";
import { ParallelScheme } from "../../../src/planner/core/population/parallel-scheme.js";
import { jitter, pull } from "../../../src/planner/core/population/shake.js";
import { TopologicalOrder } from "../../../src/planner/core/population/topological-order.js";
import { Random } from "../../../src/planner/core/random.js";
import { startSearch } from "../../../src/planner/core/start-search.js";
import { liftTask } from "../../support/lift-task.js";
import { anyOpenInput, listOpenFaults } from "../../support/open-problem-arbitrary.js";
import { propertySeed } from "../../support/property-seed.js";

const withoutReleases = anyOpenInput().map((input) => ({
  ...input,
  tasks: input.tasks.map((one) => ({ ...one, notBefore: 0 })),
}));

/** A lift for two: the longest path is 7, all the work 22 lift-minutes, so that 11 is the least; and 11 can be had. */
const TWO_AT_A_TIME: OpenTimeInput = {
  crewCount: 0,
  equipmentCount: [2],
  tasks: [
    liftTask(3, 1),
    liftTask(4, 1, [0]),
    liftTask(5, 1),
    liftTask(2, 2),
    liftTask(4, 1),
    liftTask(2, 1),
  ],
};

describe("a topological order", () => {
  it("puts the least key first, and before it whatever it follows", () => {
    const decoder = new OpenDecoder(openProblem(TWO_AT_A_TIME));
    expect([...new TopologicalOrder(decoder).from([9, 1, 5, 3, 4, 2], false)]).toEqual([0, 1, 5, 3, 4, 2]);
  });
});

describe("justification", () => {
  it("never makes a schedule longer, backward or forward again", () => {
    fc.assert(
      fc.property(withoutReleases, (input) => {
        const decoder = new OpenDecoder(openProblem(input));
        const orders = new TopologicalOrder(decoder);
        const staffing = new Int32Array(decoder.count);
        const first = decoder.decode(orders.from(decoder.tails, false), staffing, false);
        const back = decoder.decode(
          orders.from(
            decoder.end.map((end) => first - end),
            true,
          ),
          staffing,
          true,
        );
        expect(back).toBeLessThanOrEqual(first);
        const keys = decoder.end.map((end) => back - end);
        expect(decoder.decode(orders.from(keys, false), staffing, false)).toBeLessThanOrEqual(back);
      }),
      { seed: propertySeed(51), numRuns: 200 },
    );
  });
});

describe("crossover", () => {
  it("keeps the father's window between what the mother orders before and after it", () => {
    const father = { keys: Float64Array.of(0, 2, 4, 6, 8), staffing: Int32Array.of(0, 0, 0, 0, 0) };
    const mother = { keys: Float64Array.of(9, 7, 5, 3, 1), staffing: Int32Array.of(1, 1, 1, 1, 1) };
    const { keys, staffing } = cross(father, mother, { from: 2, to: 5 });
    const order = [...keys.keys()].sort((a, b) => (keys[a] ?? 0) - (keys[b] ?? 0));
    expect(order).toEqual([0, 1, 2, 4, 3]);
    expect([...staffing]).toEqual([1, 0, 0, 1, 1]);
  });
});

describe("a pull", () => {
  it("brings a task that waits for equipment earlier, and leaves the others where they are", () => {
    const decoder = new OpenDecoder(
      openProblem({ ...TWO_AT_A_TIME, tasks: [liftTask(3, 2), liftTask(4, 2)] }),
    );
    const child = { keys: Float64Array.of(0, 3), staffing: new Int32Array(2) };
    pull(decoder, child, false, new Random(1));
    expect(child.keys[0]).toBe(0);
    expect(child.keys[1]).toBeLessThan(3);
  });
});

describe("a jitter", () => {
  it("moves each task by at most a tenth of the span, and altogether few of them", () => {
    const decoder = new OpenDecoder(openProblem(TWO_AT_A_TIME));
    const random = new Random(1);
    let moved = 0;
    for (let times = 0; times < 100; times++) {
      const child = {
        keys: new Float64Array(decoder.count).fill(5),
        staffing: new Int32Array(decoder.count),
      };
      jitter(decoder, child, 20, random);
      expect(Math.max(...child.keys.map((key) => Math.abs(key - 5)))).toBeLessThanOrEqual(2);
      moved += child.keys.filter((key) => key !== 5).length;
    }
    expect(moved).toBeGreaterThan(0);
    expect(moved).toBeLessThan((100 * decoder.count) / 2);
  });
});

describe("a critical link", () => {
  /** The schedule that a decoder makes of tasks in the order of their numbers (from behind: of the last first). */
  const scheduleOf = (tasks: readonly OpenTimeTask[], backward: boolean) => {
    const decoder = new OpenDecoder(openProblem({ crewCount: 0, equipmentCount: [2], tasks }));
    const order = Int32Array.from(tasks.keys());
    const genome = { order: backward ? order.toReversed() : order, staffing: new Int32Array(tasks.length) };
    const cost = decoder.decode(genome.order, genome.staffing, backward);
    const { tie } = decoder;
    const [starts, ends] = [decoder.start.slice(), decoder.end.slice()];
    return { decoder, member: { genome, cost, tie, starts, ends, span: cost, backward } };
  };
  // The second waits for the lift, the third for the second, the fourth for nothing.
  const LINKED = [liftTask(3, 1), liftTask(4, 2), liftTask(2, 1, [1]), liftTask(1, 1)];

  it("is where a task waits for equipment on the way to the last end, and never where it follows another", () => {
    const { decoder, member } = scheduleOf(LINKED, false);
    expect(findCriticalLinks(decoder, member, new Random(1))).toEqual([[0, 1]]);
    const mirrored = scheduleOf(LINKED, true);
    expect(findCriticalLinks(mirrored.decoder, mirrored.member, new Random(1))).toEqual([[1, 0]]);
  });

  it("is turned so that the later task comes first, whichever way the child is decoded", () => {
    const { decoder, member } = scheduleOf(LINKED, false);
    for (const backward of [false, true]) {
      const child = { keys: toKeys(member, backward), staffing: member.genome.staffing };
      expect(turnLink(decoder, child, member, backward, new Random(1))).toBe(true);
      const [first = 0, second = 0] = child.keys;
      if (backward) expect(first).toBeLessThan(second);
      else expect(second).toBeLessThan(first);
    }
  });

  it("is not there where precedence alone makes the schedule as long as it is", () => {
    const { decoder, member } = scheduleOf([liftTask(3, 1), liftTask(4, 1, [0])], false);
    const child = { keys: toKeys(member, false), staffing: member.genome.staffing };
    expect(turnLink(decoder, child, member, false, new Random(1))).toBe(false);
    expect([...child.keys]).toEqual([0, 3]);
  });
});

describe("the parallel scheme", () => {
  it("makes feasible schedules, and the serial decoder makes the same of their starts", () => {
    fc.assert(
      fc.property(withoutReleases, fc.nat(), fc.boolean(), (input, seed, backward) => {
        const problem = openProblem(input);
        const decoder = new OpenDecoder(problem);
        const scheme = new ParallelScheme(problem, decoder);
        const random = new Random(seed);
        const keys = Float64Array.from(input.tasks, () => random.next());
        const staffing = new Int32Array(decoder.count);
        const makespan = scheme.decode(keys, staffing, backward);
        const crewOf = (index: number) => input.tasks[index]?.crews[0]?.crew ?? -1;
        expect(listOpenFaults(input, scheme.start, scheme.end, crewOf, backward)).toEqual([]);
        const order = new TopologicalOrder(decoder).from(scheme.start, backward);
        expect(decoder.decode(order, staffing, backward)).toBe(makespan);
        expect([...decoder.start]).toEqual([...scheme.start]);
      }),
      { seed: propertySeed(52), numRuns: 200 },
    );
  });
});

describe("cooling", () => {
  it("takes what is no worse, and at the end nothing else", () => {
    const cooling = new Cooling(new Random(1));
    expect([0, -3].map((worse) => cooling.accepts(worse, 1))).toEqual([true, true]);
    expect(Array.from({ length: 50 }, () => cooling.accepts(1, 1))).not.toContain(true);
  });
});

describe("the lower bound", () => {
  it("is the longest path or the work that the equipment has to carry", () => {
    const boundOf = (input: OpenTimeInput) => {
      const problem = openProblem(input);
      return findLowerBound(problem, new OpenDecoder(problem));
    };
    expect(boundOf(TWO_AT_A_TIME)).toBe(11);
    expect(boundOf({ ...TWO_AT_A_TIME, equipmentCount: [9] })).toBe(7);
  });

  it("is what the search stops at", () => {
    const search = startSearch(openProblem(TWO_AT_A_TIME), { seed: 1 });
    for (let step = 0; step < 1000 && search.step(); step++);
    expect(search.best.cost).toBe(11);
    expect(search.step()).toBe(false);
  });
});
