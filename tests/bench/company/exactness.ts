/**
 * Small companies against a proven optimum: in how many of forty the planner equals it, and how far above it the plans
 * are as a mean. A plan below a proven optimum, or a broken rule on either side, is a fault: then no figure counts.
 */
import { compareWithExact } from "../exact/run.js";
import { summarize } from "../exact/summary.js";
import type { Measured } from "./measure.js";

export async function measureExactness(): Promise<
  readonly [equalPercent: Measured, meanGapPercent: Measured]
> {
  const { companies, proven, equal, equalPercent, meanGapPercent, solverSeconds, plannerSeconds, errors } =
    summarize(await compareWithExact());
  const faults = proven === 0 ? [...errors, "no optimum was proven within the time allowed"] : errors;
  const toMeasured = (percent: number, more: string): Measured => ({
    value: proven === 0 ? undefined : percent,
    more,
    faults,
  });
  return [
    toMeasured(equalPercent, `${equal} of ${proven} proven of ${companies}`),
    toMeasured(
      meanGapPercent,
      `wall time of all: planner ${plannerSeconds.toFixed(1)} s, solver ${solverSeconds.toFixed(1)} s`,
    ),
  ];
}
