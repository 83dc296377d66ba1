/** The decoder in open time: active schedules, forward and backward. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { OpenDecoder } from "../../../src/planner/core/open-decoder.js";
import {
  openProblem,
  type OpenTimeInput,
  type OpenTimeTask,
} from "../../../src/planner/core/open-problem.js";
import { anyOpenInput, listOpenFaults } from "../../support/open-problem-arbitrary.js";
import { propertySeed } from "../../support/property-seed.js";

const task = (facts: Partial<OpenTimeTask>): OpenTimeTask => ({
  crews: [],
  fixedMinutes: 0,
  equipment: [],
  after: [],
  notBefore: 0,
  ...facts,
});

function decoded(
  input: OpenTimeInput,
  order: readonly number[],
  staffing: readonly number[] = [],
  backward = false,
) {
  const decoder = new OpenDecoder(openProblem(input));
  const genes = Int32Array.from(input.tasks, (_, index) => staffing[index] ?? 0);
  const makespan = decoder.decode(Int32Array.from(order), genes, backward);
  return { makespan, starts: [...decoder.start], ends: [...decoder.end] };
}

describe("in open time", () => {
  it("a task that takes no crew starts as soon as the equipment that it needs is free", () => {
    const input = {
      crewCount: 0,
      equipmentCount: [2],
      tasks: [
        task({ fixedMinutes: 5, equipment: [{ equipment: 0, amount: 1 }] }),
        task({ fixedMinutes: 3, equipment: [{ equipment: 0, amount: 1 }] }),
        task({ fixedMinutes: 4, equipment: [{ equipment: 0, amount: 2 }] }),
      ],
    };
    expect(decoded(input, [0, 1, 2])).toMatchObject({ starts: [0, 0, 5], makespan: 9 });
  });

  it("a later task fills a gap that an earlier one has left on a crew's line", () => {
    const input = {
      crewCount: 1,
      equipmentCount: [],
      tasks: [
        task({ fixedMinutes: 6 }),
        task({ crews: [{ crew: 0, minutes: 4 }], after: [{ task: 0, lagMinutes: 0 }] }),
        task({ crews: [{ crew: 0, minutes: 6 }] }),
      ],
    };
    expect(decoded(input, [0, 1, 2])).toMatchObject({ starts: [0, 6, 0], makespan: 10 });
  });

  it("a task waits for its lag and for its release date", () => {
    const input = {
      crewCount: 0,
      equipmentCount: [],
      tasks: [
        task({ fixedMinutes: 2 }),
        task({ fixedMinutes: 1, after: [{ task: 0, lagMinutes: 3 }] }),
        task({ fixedMinutes: 1, notBefore: 9 }),
      ],
    };
    expect(decoded(input, [0, 1, 2])).toMatchObject({ starts: [0, 5, 9], makespan: 10 });
  });

  it("backward, times count from the end and followers come first", () => {
    const input = {
      crewCount: 0,
      equipmentCount: [1],
      tasks: [
        task({ fixedMinutes: 2 }),
        task({ fixedMinutes: 3, after: [{ task: 0, lagMinutes: 1 }] }),
        task({ fixedMinutes: 1 }),
      ],
    };
    expect(decoded(input, [1, 0, 2], [], true)).toMatchObject({
      starts: [4, 0, 0],
      ends: [6, 3, 1],
      makespan: 6,
    });
  });

  it("every order gives a feasible schedule, forward and backward", () => {
    fc.assert(
      fc.property(anyOpenInput(), fc.array(fc.nat(50), { minLength: 12, maxLength: 12 }), (input, genes) => {
        const decoder = new OpenDecoder(openProblem(input));
        const count = input.tasks.length;
        const staffing = Int32Array.from(
          input.tasks,
          (facts, index) => (genes[index] ?? 0) % Math.max(1, facts.crews.length),
        );
        const crewOf = (index: number) => input.tasks[index]?.crews[staffing[index] ?? 0]?.crew ?? -1;
        const forward = Int32Array.from({ length: count }, (_, index) => index);
        const makespan = decoder.decode(forward, staffing, false);
        expect(listOpenFaults(input, decoder.start, decoder.end, crewOf)).toEqual([]);
        expect(makespan).toBe(Math.max(...decoder.end));
        decoder.decode(forward.toReversed(), staffing, true);
        expect(listOpenFaults(input, decoder.start, decoder.end, crewOf, true)).toEqual([]);
      }),
      { seed: propertySeed(31), numRuns: 300 },
    );
  });

  it("a decoder used again forgets the schedule before", () => {
    fc.assert(
      fc.property(anyOpenInput(), (input) => {
        const order = Int32Array.from(input.tasks, (_, index) => index);
        const genes = new Int32Array(input.tasks.length);
        const used = new OpenDecoder(openProblem(input));
        used.decode(order.toReversed(), genes, true);
        used.decode(order, genes, false);
        const fresh = new OpenDecoder(openProblem(input));
        fresh.decode(order, genes, false);
        expect([...used.start]).toEqual([...fresh.start]);
      }),
      { seed: propertySeed(32), numRuns: 100 },
    );
  });
});
