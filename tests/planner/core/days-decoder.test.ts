/**
 * The decoder of crew days in a search: it keeps placements and the cost of lines from one schedule to the next, and
 * that must never show. Random companies, with holds, rain work, equipment and open nights among them.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compile, type Compiled } from "../../../src/planner/compile/compile.js";
import { construct } from "../../../src/planner/core/construct.js";
import { DaysDecoder } from "../../../src/planner/core/days-decoder.js";
import { Random } from "../../../src/planner/core/random.js";
import type { Genome } from "../../../src/planner/core/search.js";
import { CostBook } from "../../../src/planner/report/cost.js";
import { anyCompany } from "../../support/company-arbitrary.js";
import { propertySeed } from "../../support/property-seed.js";

const RULE = { bucketMinutes: 60, by: "slack", crew: "soonest", compared: 2 } as const;
const parameters = { seed: propertySeed(811), numRuns: 150 };

interface Case {
  readonly compiled: Compiled;
  readonly first: readonly number[];
  readonly genome: Genome;
}

function startOf(compiled: Compiled): Case {
  const { choices, firstCount, unplaced } = construct(compiled.problem, RULE);
  const staffing = new Int32Array(compiled.problem.activities.length);
  for (const choice of choices) staffing[choice.activity] = choice.staffing;
  const order = Int32Array.from([...choices.map(({ activity }) => activity), ...unplaced]);
  return {
    compiled,
    first: choices.slice(0, firstCount).map(({ activity }) => activity),
    genome: { order, staffing },
  };
}

function decoderFor({ compiled, first }: Case, book: CostBook): DaysDecoder {
  return new DaysDecoder(compiled.problem, first, (timeline, unplaced) => {
    const { figures, totalFinish } = book.costOf(timeline, unplaced);
    return { cost: figures.total, tie: totalFinish };
  });
}

/** Other staffings for some, and neighbours in the order exchanged where neither follows the other. */
function changed({ compiled }: Case, { order, staffing }: Genome, random: Random): Genome {
  const { activities } = compiled.problem;
  const next = { order: order.slice(), staffing: staffing.slice() };
  for (let time = 0; time < 3; time++) {
    const activity = random.below(activities.length);
    next.staffing[activity] = random.below(Math.max(1, activities[activity]?.staffings.length ?? 1));
    const at = random.below(Math.max(1, order.length - 1));
    const [one = 0, two = 0] = next.order.subarray(at, at + 2);
    if (at + 1 < order.length && !activities[two]?.after.includes(one)) next.order.set([two, one], at);
  }
  return next;
}

describe("the decoder of crew days", () => {
  it("makes of each order what a new decoder makes of it, whatever it has decoded before", () => {
    let decoded = 0;
    fc.assert(
      fc.property(anyCompany(), fc.nat(), ({ company, asOf }, seed) => {
        const start = startOf(compile(company, asOf, 400));
        if (start.genome.order.length === 0) return;
        const random = new Random(seed);
        const decoder = decoderFor(start, new CostBook(start.compiled));
        let { genome } = start;
        for (let step = 0; step < 12; step++) {
          const next = changed(start, genome, random);
          const fresh = decoderFor(start, new CostBook(start.compiled));
          expect(decoder.decode(next.order, next.staffing)).toBe(fresh.decode(next.order, next.staffing));
          expect([...decoder.start, ...decoder.end]).toEqual([...fresh.start, ...fresh.end]);
          expect([...decoder.timeline.endOf]).toEqual([...fresh.timeline.endOf]);
          expect(decoder.timeline.visits.map((line) => line.map(({ leave }) => leave))).toEqual(
            fresh.timeline.visits.map((line) => line.map(({ leave }) => leave)),
          );
          if (random.next() < 0.6) genome = next;
          decoded += 1;
        }
      }),
      parameters,
    );
    expect(decoded).toBeGreaterThan(1_000);
  }, 120_000);

  it("staffs what is left open, and makes the same schedule again of what it chose", () => {
    fc.assert(
      fc.property(anyCompany(), fc.nat(), ({ company, asOf }, seed) => {
        const start = startOf(compile(company, asOf, 400));
        const random = new Random(seed);
        const fixed = new Set(start.first);
        const staffing = start.genome.staffing.map((given, activity) =>
          fixed.has(activity) || random.next() < 0.5 ? given : -1,
        );
        const decoder = decoderFor(start, new CostBook(start.compiled));
        const cost = decoder.decodeFreely(start.genome.order, staffing, 1);
        const { unplaced } = decoder;
        for (const [activity, chosen] of staffing.entries()) {
          const { staffings = [] } = start.compiled.problem.activities[activity] ?? {};
          expect(chosen).toBeGreaterThanOrEqual(0);
          expect(chosen).toBeLessThan(Math.max(1, staffings.length));
        }
        const again = decoderFor(start, new CostBook(start.compiled));
        expect(again.decode(start.genome.order, staffing)).toBe(cost);
        expect(again.unplaced).toEqual(unplaced);
      }),
      parameters,
    );
  }, 120_000);
});
