/** Small changes with late acceptance, on a case small enough to try everything. */
import { describe, expect, it } from "vitest";
import { NeighbourSearch } from "../../../src/planner/core/neighbour-search.js";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import { openProblem, type OpenTimeInput } from "../../../src/planner/core/open-problem.js";

/** Six tasks for two crews, 24 minutes of work in all: two lines of 12 are possible, and a release date is met. */
const INPUT: OpenTimeInput = {
  crewCount: 2,
  equipmentCount: [],
  tasks: [7, 5, 4, 3, 3, 2].map((minutes, index) => ({
    crews: [
      { crew: 0, minutes },
      { crew: 1, minutes },
    ],
    fixedMinutes: 0,
    equipment: [],
    after: [],
    notBefore: index === 0 ? 5 : 0,
  })),
};
const OPTIMUM = 12;

function search(seed: number, schedules: number): NeighbourSearch {
  const decoder = new OpenDecoder(openProblem(INPUT));
  const order = Int32Array.from(INPUT.tasks, (_, index) => index);
  return new NeighbourSearch(decoder, {
    seed,
    schedules,
    from: { order, staffing: new Int32Array(order.length) },
  });
}

function finished(seed: number, schedules: number): NeighbourSearch {
  const started = search(seed, schedules);
  while (started.step());
  return started;
}

describe("the search by small changes", () => {
  it("starts with the genome that it is given: all on one crew, the second task before the first is released", () => {
    expect(search(1, 100).best.cost).toBe(24);
  });

  it("finds the optimum of a small case from any seed", () => {
    for (const seed of [1, 2, 3, 4, 5]) expect(finished(seed, 2_000).best.cost).toBe(OPTIMUM);
  });

  it("never decodes more schedules than it is given", () => {
    expect(finished(1, 30).schedules).toBeLessThanOrEqual(30);
  });

  it("finds the same with the same seed", () => {
    expect([...finished(9, 200).best.genome.order]).toEqual([...finished(9, 200).best.genome.order]);
  });

  it("leaves fixed activities alone", () => {
    const decoder = new OpenDecoder(openProblem(INPUT));
    const order = Int32Array.from(INPUT.tasks, (_, index) => index);
    const fixed = new Set(order.keys());
    const started = new NeighbourSearch(decoder, {
      seed: 1,
      fixed,
      from: { order, staffing: new Int32Array(6) },
    });
    expect(started.step()).toBe(false);
  });
});
