/**
 * What forty comparisons come to: the two figures that have bars, over the companies whose optimum is proven.
 */
import type { Row } from "./run.js";

export interface ExactSummary {
  readonly companies: number;
  readonly proven: number;
  /** Where the planner equals the proven optimum. */
  readonly equal: number;
  /** Of the proven ones; NaN where there is none. */
  readonly equalPercent: number;
  readonly meanGapPercent: number;
  readonly solverSeconds: number;
  readonly plannerSeconds: number;
  /** Each with its company's seed. */
  readonly errors: readonly string[];
}

export function summarize(rows: readonly Row[]): ExactSummary {
  const proven = rows.filter((row) => row.isProven);
  const equal = proven.filter((row) => row.gap === 0).length;
  const sum = (amounts: readonly number[]): number => amounts.reduce((total, amount) => total + amount, 0);
  return {
    companies: rows.length,
    proven: proven.length,
    equal,
    equalPercent: (100 * equal) / proven.length,
    meanGapPercent: (100 * sum(proven.map((row) => row.gap ?? 0))) / proven.length,
    solverSeconds: sum(rows.map((row) => row.solverMilliseconds)) / 1000,
    plannerSeconds: sum(rows.map((row) => row.plannerMilliseconds)) / 1000,
    errors: rows.flatMap((row) => row.errors.map((error) => `company ${row.company}: ${error}`)),
  };
}
