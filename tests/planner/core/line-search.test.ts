/** The search where crews are lines keeps the promises of every search. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import { openProblem, type OpenTimeTask } from "../../../src/planner/core/open-problem.js";
import type { Search } from "../../../src/planner/core/search.js";
import { startSearch } from "../../../src/planner/core/start-search.js";
import { propertySeed } from "../../support/property-seed.js";
import { lineInput } from "./lines/line-choices.js";

function stepped(search: Search, steps: number): Search {
  for (let step = 0; step < steps && search.step(); step++);
  return search;
}

const parameters = { seed: propertySeed(48), numRuns: 60 };

describe("the search on lines", () => {
  it("gives a best that the decoder makes of its genome, and never a worse one than before", () => {
    fc.assert(
      fc.property(lineInput(9), fc.nat(), (input, seed) => {
        const problem = openProblem(input);
        const decoder = new OpenDecoder(problem);
        const search = startSearch(problem, { seed });
        for (let step = 0; step < 80; step++) {
          const { cost } = search.best;
          search.step();
          expect(search.best.cost).toBeLessThanOrEqual(cost);
        }
        const { genome, cost, starts } = search.best;
        expect(decoder.decode(genome.order, genome.staffing, false)).toBe(cost);
        expect([...decoder.start]).toEqual([...starts]);
      }),
      parameters,
    );
  });

  it("computes no more schedules than it is allowed, and says then that it is done", () => {
    fc.assert(
      fc.property(lineInput(9), fc.integer({ min: 1, max: 120 }), (input, schedules) => {
        const search = stepped(startSearch(openProblem(input), { seed: 2, schedules }), 1000);
        expect(search.schedules).toBeLessThanOrEqual(schedules);
        expect(search.step()).toBe(false);
      }),
      parameters,
    );
  });

  it("gives the same for the same seed", () => {
    fc.assert(
      fc.property(lineInput(9), fc.nat(), (input, seed) => {
        const one = stepped(startSearch(openProblem(input), { seed }), 120);
        const two = stepped(startSearch(openProblem(input), { seed }), 120);
        expect([two.schedules, two.best]).toEqual([one.schedules, one.best]);
      }),
      parameters,
    );
  });

  it("shares two operations out among two machines, the long one to the fast", () => {
    const machines = (one: number, two: number): OpenTimeTask => ({
      crews: [
        { crew: 0, minutes: one },
        { crew: 1, minutes: two },
      ],
      fixedMinutes: 0,
      equipment: [],
      after: [],
      notBefore: 0,
    });
    // Each alone would rather have the second machine; the best is 9 on the second beside 7 on the first.
    const problem = openProblem({
      crewCount: 2,
      equipmentCount: [],
      tasks: [machines(7, 5), machines(14, 9)],
    });
    expect(stepped(startSearch(problem, { seed: 1 }), 200).best).toMatchObject({ cost: 9 });
  });
});
