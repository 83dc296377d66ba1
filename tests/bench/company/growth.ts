/**
 * Growth of the time for a first plan from 500 to 8,000 tasks, crews and houses in proportion. Time is fitted to n^k;
 * the yardstick is the same fit through n·log n at the same sizes.
 */
import { PlanSearch } from "../../../src/planner/plan.js";
import { fitExponent, medianOf, timed, type Measured } from "./measure.js";
import { AS_OF, countTasks, sizedCompany } from "./sized-company.js";

const SIZES = [500, 1000, 2000, 4000, 8000];
const ROUNDS = 3;
const WARM_UPS = 4;

/** The exponent that n·log n itself shows over these sizes. */
export const N_LOG_N_EXPONENT = fitExponent(SIZES.map((size) => ({ size, cost: size * Math.log(size) })));

export function measureGrowth(): Measured {
  for (let round = 0; round < WARM_UPS; round++) firstPlan(1000, 100 + round);
  const points = SIZES.map((tasks) => {
    const rounds = Array.from({ length: ROUNDS }, (_, round) => firstPlan(tasks, 1 + round));
    return { size: rounds[0]?.tasks ?? tasks, cost: medianOf(rounds.map((one) => one.milliseconds)) };
  });
  const times = points.map(({ size, cost }) => `${size} tasks ${cost.toFixed(0)} ms`);
  return {
    value: fitExponent(points),
    more: `medians of ${ROUNDS}: ${times.join(", ")}`,
    faults: [],
  };
}

function firstPlan(size: number, seed: number): { readonly tasks: number; readonly milliseconds: number } {
  const company = sizedCompany(size, seed);
  const { milliseconds } = timed(() => new PlanSearch(company, { asOf: AS_OF, seed: 1, iterations: 1 }));
  return { tasks: countTasks(company), milliseconds };
}
