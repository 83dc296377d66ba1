/** The bound at which the search on lines stops. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findBound } from "../../../../src/planner/core/lines/line-bound.js";
import { toLineProblem } from "../../../../src/planner/core/lines/line-problem.js";
import { OpenDecoder } from "../../../../src/planner/core/open-decoder.js";
import { openProblem } from "../../../../src/planner/core/open-problem.js";
import { Random } from "../../../../src/planner/core/random.js";
import "../../../support/property-seed.js";
import { drawGenome, lineInput } from "./line-choices.js";

describe("findBound", () => {
  it("is beaten by no schedule", () => {
    fc.assert(
      fc.property(lineInput(6), fc.nat(), (input, seed) => {
        const problem = openProblem(input);
        const decoder = new OpenDecoder(problem);
        const random = new Random(seed);
        const bound = findBound(toLineProblem(problem), drawGenome(input, random).order);
        for (let draw = 0; draw < 60; draw++) {
          const { order, staffing } = drawGenome(input, random);
          expect(decoder.decode(order, staffing, false)).toBeGreaterThanOrEqual(bound);
        }
      }),
    );
  });

  it("shares out work that only two crews can do among the two, behind the earliest start and before the shortest rest", () => {
    const crews = [0, 1].map((crew) => ({ crew, minutes: 5 }));
    const shared = { crews, fixedMinutes: 0, equipment: [], after: [], notBefore: 10 };
    const after = [0, 1, 2].map((task) => ({ task, lagMinutes: 1 }));
    const last = { crews: [{ crew: 2, minutes: 2 }], fixedMinutes: 0, equipment: [], after, notBefore: 0 };
    const problem = openProblem({ crewCount: 3, equipmentCount: [], tasks: [shared, shared, shared, last] });
    expect(findBound(toLineProblem(problem), Int32Array.of(0, 1, 2, 3))).toBe(10 + 8 + 1 + 2);
  });
});
