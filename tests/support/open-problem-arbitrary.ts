/**
 * Random problems in open time: some tasks take a crew (of several), some take none, some hold equipment; edges go
 * forward, so that there is no circle.
 */
import * as fc from "fast-check";
import type { OpenTimeInput } from "../../src/planner/core/open-problem.js";

const MOST_TASKS = 12;

export function anyOpenInput(): fc.Arbitrary<OpenTimeInput> {
  const crewCount = 3;
  const equipmentCount = [2, 3];
  const task = fc.record({
    crewMinutes: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: crewCount, maxLength: crewCount }),
    fixedMinutes: fc.integer({ min: 0, max: 9 }),
    needsCrew: fc.boolean(),
    eligible: fc.subarray([0, 1, 2], { minLength: 1 }),
    amounts: fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 0, max: 3 })),
    before: fc.array(
      fc.record({ back: fc.integer({ min: 1, max: 4 }), lagMinutes: fc.integer({ min: 0, max: 3 }) }),
      {
        maxLength: 2,
      },
    ),
    notBefore: fc.constantFrom(0, 0, 0, 5),
  });
  return fc.array(task, { minLength: 1, maxLength: MOST_TASKS }).map((drafts) => ({
    crewCount,
    equipmentCount,
    tasks: drafts.map((draft, index) => ({
      crews: draft.needsCrew
        ? draft.eligible.map((crew) => ({ crew, minutes: draft.crewMinutes[crew] ?? 1 }))
        : [],
      fixedMinutes: draft.needsCrew ? 0 : draft.fixedMinutes,
      equipment: draft.amounts.map((amount, equipment) => ({ equipment, amount })),
      after: draft.before
        .filter(({ back }) => back <= index)
        .map(({ back, lagMinutes }) => ({ task: index - back, lagMinutes })),
      notBefore: draft.notBefore,
    })),
  }));
}

/** What is wrong with times for such a problem, in sentences; by plain recomputation, minute by minute. */
export function listOpenFaults(
  input: OpenTimeInput,
  starts: ArrayLike<number>,
  ends: ArrayLike<number>,
  crewOf: (task: number) => number,
  backward = false,
): string[] {
  const faults: string[] = [];
  const horizon = Math.max(0, ...Array.from(ends));
  const running = (minute: number) =>
    input.tasks
      .map((_, task) => task)
      .filter((task) => (starts[task] ?? 0) <= minute && minute < (ends[task] ?? 0));
  for (const [task, facts] of input.tasks.entries()) {
    const start = starts[task] ?? -1;
    const end = ends[task] ?? -1;
    const crew = crewOf(task);
    const minutes =
      facts.crews.length === 0 ? facts.fixedMinutes : facts.crews.find((one) => one.crew === crew)?.minutes;
    if (end - start !== minutes) faults.push(`task ${task} takes ${end - start}, not ${minutes}`);
    if (!backward && start < facts.notBefore) faults.push(`task ${task} starts before its release`);
    for (const edge of facts.after) {
      const [first, second] = backward ? [task, edge.task] : [edge.task, task];
      if ((starts[second] ?? 0) < (ends[first] ?? 0) + edge.lagMinutes)
        faults.push(`task ${second} starts too early after ${first}`);
    }
  }
  for (let minute = 0; minute < horizon; minute++) {
    const now = running(minute);
    for (const [equipment, count] of input.equipmentCount.entries()) {
      const load = now.reduce(
        (sum, task) =>
          sum + (input.tasks[task]?.equipment.find((use) => use.equipment === equipment)?.amount ?? 0),
        0,
      );
      if (load > count) faults.push(`equipment ${equipment} is overloaded at ${minute}`);
    }
    const crews = now.map(crewOf).filter((crew) => crew >= 0);
    if (new Set(crews).size < crews.length) faults.push(`a crew is in two places at ${minute}`);
  }
  return faults;
}
