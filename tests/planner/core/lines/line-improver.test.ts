/** The search on lines: known optima of small cases, and what holds for every problem. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { improveLines, LineImprover } from "../../../../src/planner/core/lines/line-improver.js";
import { OpenDecoder } from "../../../../src/planner/core/open-decoder.js";
import {
  openProblem,
  type OpenTimeInput,
  type OpenTimeTask,
} from "../../../../src/planner/core/open-problem.js";
import { Random } from "../../../../src/planner/core/random.js";
import "../../../support/property-seed.js";
import { drawGenome, lineInput, listFaults } from "./line-choices.js";

const taskOf = (
  minutes: Readonly<Record<number, number>>,
  ...after: readonly (readonly [number, number])[]
): OpenTimeTask => ({
  crews: Object.entries(minutes).map(([crew, length]) => ({ crew: Number(crew), minutes: length })),
  fixedMinutes: 0,
  equipment: [],
  after: after.map(([task, lagMinutes]) => ({ task, lagMinutes })),
  notBefore: 0,
});

const inputOf = (crewCount: number, tasks: readonly OpenTimeTask[]): OpenTimeInput => ({
  crewCount,
  equipmentCount: [],
  tasks,
});

/** Cost before and after 200 schedules from an order with each task's first option. */
function improve(input: OpenTimeInput, order: readonly number[]): readonly [number, number] {
  const decoder = new OpenDecoder(openProblem(input));
  const staffing = new Int32Array(order.length);
  const before = decoder.decode(Int32Array.from(order), staffing, false);
  return [before, improveLines(decoder, Int32Array.from(order), staffing, new Random(1), 200).cost];
}

describe("improveLines", () => {
  it("turns round two jobs on two crews that stand in each other's way", () => {
    // Crew 0 has 3 + 4 minutes of work: no schedule is shorter than 7.
    const shop = inputOf(2, [
      taskOf({ 0: 3 }),
      taskOf({ 1: 2 }, [0, 0]),
      taskOf({ 1: 2 }),
      taskOf({ 0: 4 }, [2, 0]),
    ]);
    expect(improve(shop, [2, 3, 0, 1])).toEqual([11, 7]);
  });

  it("gives a task to a slower crew where the quicker one is busy", () => {
    expect(improve(inputOf(2, [taskOf({ 0: 5, 1: 6 }), taskOf({ 0: 5, 1: 6 })]), [0, 1])).toEqual([10, 6]);
  });

  it("puts first what a long lag waits behind", () => {
    const cure = inputOf(2, [taskOf({ 0: 5 }), taskOf({ 0: 2 }), taskOf({ 1: 4 }, [1, 6])]);
    expect(improve(cure, [0, 1, 2])).toEqual([17, 12]);
  });

  it("finds the optimum of general precedence, as all genomes tried one by one show", () => {
    // Two tasks join before a third; crews differ in pace.
    const join = inputOf(2, [
      taskOf({ 0: 4, 1: 6 }),
      taskOf({ 0: 3, 1: 3 }),
      taskOf({ 0: 2, 1: 5 }, [0, 1], [1, 0]),
      taskOf({ 0: 6, 1: 4 }),
      taskOf({ 1: 3 }, [1, 2]),
    ]);
    const decoder = new OpenDecoder(openProblem(join));
    const random = new Random(3);
    let best = Number.MAX_SAFE_INTEGER;
    for (let draw = 0; draw < 4000; draw++) {
      const { order, staffing } = drawGenome(join, random);
      best = Math.min(best, decoder.decode(order, staffing, false));
    }
    expect(improve(join, [3, 0, 1, 4, 2])[1]).toBe(best);
  });

  it("never gives back anything worse than it was given, and what it gives decodes to a feasible schedule of its cost", () => {
    fc.assert(
      fc.property(lineInput(12), fc.nat(), (input, seed) => {
        const decoder = new OpenDecoder(openProblem(input));
        const { order, staffing } = drawGenome(input, new Random(seed));
        const given = decoder.decode(order, staffing, false);
        const found = improveLines(decoder, order, staffing, new Random(seed), 60);
        expect(found.cost).toBeLessThanOrEqual(given);
        const decoded = decoder.decode(found.order, found.staffing, false);
        expect(decoded).toBeLessThanOrEqual(found.cost);
        expect(listFaults(input, found.staffing, decoder.start, decoder.end)).toEqual([]);
        expect([...found.order].toSorted((a, b) => a - b)).toEqual([...input.tasks.keys()]);
        const place = [...input.tasks.keys()].map((task) => found.order.indexOf(task));
        input.tasks.forEach(({ after }, task) =>
          after.forEach((edge) => expect(place[edge.task]).toBeLessThan(place[task] ?? -1)),
        );
      }),
    );
  });
});

describe("LineImprover", () => {
  const shop = inputOf(
    3,
    Array.from({ length: 30 }, (_, at) => {
      const minutes = { [at % 3]: 3 + ((at * 7) % 11), [(at + 1 + (at % 2)) % 3]: 4 + ((at * 5) % 13) };
      return at % 5 === 0 ? taskOf(minutes) : taskOf(minutes, [at - 1, at % 3]);
    }),
  );

  it("makes the same of the same seed, across restarts and links", () => {
    const runs = [1, 2].map(() => {
      const improver = new LineImprover(new OpenDecoder(openProblem(shop)), new Random(5));
      const { order, staffing } = drawGenome(shop, new Random(9));
      improver.start(order, staffing);
      const costs: number[] = [];
      while (improver.schedules < 9000 && improver.step()) costs.push(improver.best().cost);
      return { costs, schedules: improver.schedules, best: improver.best() };
    });
    expect(runs[0]).toEqual(runs[1]);
    expect(runs[0]?.costs.length).toBeGreaterThan(0);
  });

  it("lowers its best or keeps it, step by step", () => {
    const improver = new LineImprover(new OpenDecoder(openProblem(shop)), new Random(5));
    const { order, staffing } = drawGenome(shop, new Random(9));
    improver.start(order, staffing);
    const first = improver.best().cost;
    let last = first;
    for (let step = 0; step < 1500 && improver.step(); step++) {
      expect(improver.best().cost).toBeLessThanOrEqual(last);
      last = improver.best().cost;
    }
    expect(last).toBeLessThan(first);
  });

  it("stops where the bound proves that nothing is better", () => {
    const improver = new LineImprover(
      new OpenDecoder(openProblem(inputOf(1, [taskOf({ 0: 4 })]))),
      new Random(1),
    );
    improver.start(Int32Array.of(0), Int32Array.of(0));
    expect(improver.best().cost).toBe(4);
    expect(improver.step()).toBe(false);
  });
});
