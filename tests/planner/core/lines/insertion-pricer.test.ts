/** Moves are priced before they are made: exactly, and never into a circle. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InsertionPricer } from "../../../../src/planner/core/lines/insertion-pricer.js";
import { toLineProblem } from "../../../../src/planner/core/lines/line-problem.js";
import { LineSchedule } from "../../../../src/planner/core/lines/line-schedule.js";
import { openProblem, type OpenTimeInput } from "../../../../src/planner/core/open-problem.js";
import { Random } from "../../../../src/planner/core/random.js";
import type { Genome } from "../../../../src/planner/core/search.js";
import "../../../support/property-seed.js";
import { drawGenome, lineInput } from "./line-choices.js";

const ANY = 2_000_000_000;

function scheduleOf(input: OpenTimeInput, { order, staffing }: Genome): LineSchedule {
  const schedule = new LineSchedule(toLineProblem(openProblem(input)));
  schedule.fill(order, staffing);
  schedule.recompute();
  return schedule;
}

/** Shortest makespan of all places of the task in an option's line that make no circle. */
function findBestPlace(input: OpenTimeInput, genome: Genome, task: number, option: number): number {
  let best = ANY;
  for (let place = -1; place < input.tasks.length; place++) {
    const schedule = scheduleOf(input, genome);
    const { item } = schedule.problem.options;
    const line = item[option] ?? -1;
    schedule.remove(task);
    if (place >= 0 && (place === task || schedule.line[place] !== line || line < 0)) continue;
    schedule.insert(task, option, place);
    if (schedule.recompute()) best = Math.min(best, schedule.makespan);
  }
  return best;
}

/** Calls `visit` with each task and option, the pricer ready for them and the price found. */
function priceAll(
  input: OpenTimeInput,
  seed: number,
  visit: (genome: Genome, task: number, option: number, price: number, previous: number) => void,
): void {
  const random = new Random(seed);
  const genome = drawGenome(input, random);
  const schedule = scheduleOf(input, genome);
  const pricer = new InsertionPricer(schedule, random);
  const { options } = schedule.problem;
  pricer.refresh();
  for (let task = 0; task < input.tasks.length; task++) {
    for (let option = options.from[task] ?? 0; option < (options.from[task + 1] ?? 0); option++) {
      expect(pricer.lift(task, ANY)).toBe(true);
      const through = pricer.insertion(task, option, ANY);
      const { makespanWithout, previous } = pricer;
      pricer.putBack(task);
      expect([...pricer.end]).toEqual([...schedule.end]);
      expect([...pricer.tail]).toEqual([...schedule.tail]);
      if (schedule.line[task] !== options.item[option]) expect(through).toBeGreaterThanOrEqual(0);
      if (through >= 0) visit(genome, task, option, Math.max(through, makespanWithout), previous);
    }
  }
}

describe("InsertionPricer", () => {
  it("prices a move at exactly the makespan that it brings about, and makes no circle", () => {
    fc.assert(
      fc.property(lineInput(12), fc.nat(), (input, seed) => {
        priceAll(input, seed, (genome, task, option, price, previous) => {
          const schedule = scheduleOf(input, genome);
          schedule.remove(task);
          schedule.insert(task, option, previous);
          expect(schedule.recompute()).toBe(true);
          expect(schedule.makespan).toBe(price);
        });
      }),
    );
  });

  it("finds the best of all places in another crew's line", () => {
    fc.assert(
      fc.property(lineInput(9), fc.nat(), (input, seed) => {
        priceAll(input, seed, (genome, task, option, price) => {
          const { line, problem } = scheduleOf(input, genome);
          if (line[task] === problem.options.item[option]) return;
          expect(price).toBe(findBestPlace(input, genome, task, option));
        });
      }),
    );
  });

  it("offers a task in its own line any place but its own", () => {
    const plain = {
      crews: [{ crew: 0, minutes: 2 }],
      fixedMinutes: 0,
      equipment: [],
      notBefore: 0,
      after: [],
    };
    const input = { crewCount: 1, equipmentCount: [], tasks: [plain] };
    priceAll(input, 1, () => expect.fail("A task alone in its line has no other place."));
    let offers = 0;
    priceAll({ ...input, tasks: [plain, plain, plain] }, 1, (genome, task, _, price, previous) => {
      const at = genome.order.indexOf(task);
      expect(previous).not.toBe(genome.order[at - 1] ?? -1);
      expect(price).toBe(6);
      offers++;
    });
    expect(offers).toBe(3);
  });
});
