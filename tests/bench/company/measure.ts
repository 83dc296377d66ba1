/** What a measure of the company planner gives, and the arithmetic that several of them share. */
import type { Company } from "../../../src/domain/company-schema.js";
import type { Plan } from "../../../src/domain/plan-format.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";

export interface Measured {
  /** Undefined where there is no figure. */
  readonly value: number | undefined;
  /** What else was measured on the way, in words. */
  readonly more: string;
  /** Why the figure does not count; empty where it does. */
  readonly faults: readonly string[];
}

/** What a process is asked that takes one measure. */
export interface MeasureMessage {
  readonly name: string;
}

/** No figure, and why. */
export function toUncounted(why: string): Measured {
  return { value: undefined, more: "", faults: [why] };
}

/** What a figure is, as a line of the table says it, and its bar. */
export interface Figure {
  readonly what: string;
  readonly unit: string;
  readonly digits: number;
  readonly bar: { readonly kind: "at most" | "at least"; readonly value: number };
}

/** What is measured in one go: one figure or several. */
export interface Measure {
  readonly figures: readonly Figure[];
  /** As many as there are figures, in their order. */
  readonly take: () => readonly Measured[] | Promise<readonly Measured[]>;
}

/** The middle one; of an even number the lower of the two. */
export function medianOf(numbers: readonly number[]): number {
  const sorted = [...numbers].sort((left, right) => left - right);
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? Number.NaN;
}

/** What `work` makes, and how many milliseconds it took. */
export function timed<T>(work: () => T): { readonly made: T; readonly milliseconds: number } {
  const begun = performance.now();
  const made = work();
  return { made, milliseconds: performance.now() - begun };
}

/** The first of the rules that the plan breaks, by the checker that shares no code with the planner. */
export function listPlanFaults(company: Company, plan: Plan): readonly string[] {
  const broken = checkPlan(company, plan);
  const [first] = broken;
  return first === undefined
    ? []
    : [`the plan breaks ${broken.length} rules, first: ${JSON.stringify(first)}`];
}

/** The slope k of a straight line through (log size, log cost), least squares: cost grows as size to the power k. */
export function fitExponent(points: readonly { readonly size: number; readonly cost: number }[]): number {
  const logs = points.map(({ size, cost }) => ({ x: Math.log(size), y: Math.log(cost) }));
  const meanX = logs.reduce((sum, { x }) => sum + x, 0) / logs.length;
  const meanY = logs.reduce((sum, { y }) => sum + y, 0) / logs.length;
  const above = logs.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const below = logs.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  return above / below;
}
