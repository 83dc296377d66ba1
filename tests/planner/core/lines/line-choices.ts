/** Random problems in open time whose crews are lines, random genomes of them, and an independent check of a schedule. */
import * as fc from "fast-check";
import type { OpenTimeInput, OpenTimeTask } from "../../../../src/planner/core/open-problem.js";
import { Random } from "../../../../src/planner/core/random.js";
import type { Genome } from "../../../../src/planner/core/search.js";

const CREWS = 3;

const task = fc.record({
  crews: fc.uniqueArray(
    fc.record({ crew: fc.nat({ max: CREWS - 1 }), minutes: fc.integer({ min: 0, max: 7 }) }),
    { selector: ({ crew }) => crew, maxLength: CREWS },
  ),
  fixedMinutes: fc.nat({ max: 4 }),
  back: fc.array(fc.record({ back: fc.integer({ min: 1, max: 5 }), lagMinutes: fc.nat({ max: 4 }) }), {
    maxLength: 2,
  }),
  notBefore: fc.oneof(fc.constant(0), fc.nat({ max: 9 })),
});

/** Up to `most` tasks; each follows only tasks before it in the list. The first has a crew. */
export function lineInput(most: number): fc.Arbitrary<OpenTimeInput> {
  return fc.array(task, { minLength: 1, maxLength: most }).map((tasks) => ({
    crewCount: CREWS,
    equipmentCount: [],
    tasks: tasks.map(({ crews, fixedMinutes, back, notBefore }, index): OpenTimeTask => ({
      crews: index === 0 && crews.length === 0 ? [{ crew: 0, minutes: 3 }] : crews,
      fixedMinutes: crews.length === 0 && index > 0 ? fixedMinutes : 0,
      equipment: [],
      after: back
        .filter((edge) => edge.back <= index)
        .map((edge) => ({ task: index - edge.back, lagMinutes: edge.lagMinutes })),
      notBefore,
    })),
  }));
}

/** An order that respects precedence, and staffings, both drawn. */
export function drawGenome({ tasks }: OpenTimeInput, random: Random): Genome {
  const left = new Set(tasks.keys());
  const order: number[] = [];
  while (left.size > 0) {
    const ready = [...left].filter((index) => tasks[index]?.after.every((edge) => !left.has(edge.task)));
    const pick = ready[random.below(ready.length)] ?? 0;
    order.push(pick);
    left.delete(pick);
  }
  return {
    order: Int32Array.from(order),
    staffing: Int32Array.from(tasks, ({ crews }) => random.below(Math.max(1, crews.length))),
  };
}

/** What is wrong with a schedule, read from the input alone: one sentence for each fault. */
export function listFaults(
  { tasks }: OpenTimeInput,
  staffing: Int32Array,
  start: Int32Array,
  end: Int32Array,
): readonly string[] {
  const faults: string[] = [];
  const at = (times: Int32Array, index: number): number => times[index] ?? Number.NaN;
  for (const [index, one] of tasks.entries()) {
    const option = one.crews[staffing[index] ?? -1];
    const minutes = one.crews.length === 0 ? one.fixedMinutes : (option?.minutes ?? Number.NaN);
    if (at(end, index) - at(start, index) !== minutes)
      faults.push(`Task ${index} does not take its minutes.`);
    if (!(at(start, index) >= one.notBefore)) faults.push(`Task ${index} starts before its release.`);
    for (const edge of one.after) {
      if (!(at(start, index) >= at(end, edge.task) + edge.lagMinutes)) {
        faults.push(`Task ${index} does not wait for task ${edge.task}.`);
      }
    }
    for (let other = 0; other < index; other++) {
      const shares = option !== undefined && tasks[other]?.crews[staffing[other] ?? -1]?.crew === option.crew;
      const overlap = Math.min(at(end, index), at(end, other)) - Math.max(at(start, index), at(start, other));
      if (shares && overlap > 0) faults.push(`Tasks ${other} and ${index} have one crew at one time.`);
    }
  }
  return faults;
}
