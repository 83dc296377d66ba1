/** The search: what it promises whoever steps it. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import { openProblem, type OpenTimeInput } from "../../../src/planner/core/open-problem.js";
import type { ScheduleDecoder } from "../../../src/planner/core/schedule-decoder.js";
import type { Search } from "../../../src/planner/core/search.js";
import { searchWith, startSearch } from "../../../src/planner/core/start-search.js";
import { anyOpenInput, listOpenFaults } from "../../support/open-problem-arbitrary.js";
import { propertySeed } from "../../support/property-seed.js";

function stepped(search: Search, steps: number): Search {
  for (let step = 0; step < steps && search.step(); step++);
  return search;
}

const crewOf = (input: OpenTimeInput, search: Search) => (task: number) =>
  input.tasks[task]?.crews[search.best.genome.staffing[task] ?? 0]?.crew ?? -1;

/** Counts what is decoded, by itself. */
function counted(decoder: ScheduleDecoder): {
  readonly decoder: ScheduleDecoder;
  readonly count: () => number;
} {
  let schedules = 0;
  const decode: ScheduleDecoder["decode"] = (...genome) => {
    schedules++;
    return decoder.decode(...genome);
  };
  const watched = new Proxy(decoder, {
    get: (target, name) => (name === "decode" ? decode : (Reflect.get(target, name) as unknown)),
  });
  return { decoder: watched, count: () => schedules };
}

const parameters = { seed: propertySeed(47), numRuns: 60 };

describe("the search", () => {
  it("has a feasible best from the start on", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.nat(150), (input, steps) => {
        const search = stepped(startSearch(openProblem(input), { seed: 1 }), steps);
        const { starts, ends, cost } = search.best;
        expect(listOpenFaults(input, starts, ends, crewOf(input, search))).toEqual([]);
        expect(cost).toBe(Math.max(...ends));
      }),
      parameters,
    );
  });

  it("never gets worse from one step to the next", () => {
    fc.assert(
      fc.property(anyOpenInput(), (input) => {
        const search = startSearch(openProblem(input), { seed: 3 });
        for (let step = 0; step < 150; step++) {
          const { cost } = search.best;
          search.step();
          expect(search.best.cost).toBeLessThanOrEqual(cost);
        }
      }),
      parameters,
    );
  });

  it("is never worse than the genome that it begins with", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.nat(), (input, seed) => {
        const problem = openProblem(input);
        const from = stepped(startSearch(problem, { seed: 1 }), 200).best;
        const search = startSearch(problem, { seed, from: from.genome });
        expect(search.best.cost).toBe(from.cost);
        expect(stepped(search, 50).best.cost).toBeLessThanOrEqual(from.cost);
      }),
      parameters,
    );
  });

  it("gives a best that the decoder makes of its genome", () => {
    fc.assert(
      fc.property(anyOpenInput(), (input) => {
        const decoder = new OpenDecoder(openProblem(input));
        const { best } = stepped(searchWith(decoder, { seed: 5 }), 200);
        expect(decoder.decode(best.genome.order, best.genome.staffing, false)).toBe(best.cost);
        expect([...decoder.start]).toEqual([...best.starts]);
      }),
      parameters,
    );
  });

  it("gives the same for the same seed", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.nat(), (input, seed) => {
        const one = stepped(startSearch(openProblem(input), { seed }), 200);
        const two = stepped(startSearch(openProblem(input), { seed }), 200);
        expect(two).toMatchObject({ schedules: one.schedules, best: one.best });
      }),
      parameters,
    );
  });

  it("counts every schedule that is decoded, one at most in a step", () => {
    fc.assert(
      fc.property(anyOpenInput(), (input) => {
        const { decoder, count } = counted(new OpenDecoder(openProblem(input)));
        const search = searchWith(decoder, { seed: 2 });
        for (let step = 0; step < 200; step++) {
          const before = count();
          if (!search.step()) break;
          expect(count() - before).toBeLessThanOrEqual(1);
          expect(search.schedules).toBe(count());
        }
      }),
      parameters,
    );
  });

  it("decodes no more schedules than it is allowed, and says then that it is done", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.integer({ min: 1, max: 200 }), (input, schedules) => {
        const { decoder, count } = counted(new OpenDecoder(openProblem(input)));
        const search = stepped(searchWith(decoder, { seed: 2, schedules }), 1000);
        expect(count()).toBeLessThanOrEqual(schedules);
        expect(search.step()).toBe(false);
      }),
      parameters,
    );
  });
});
