/**
 * The planner's door: a company as it stands, a minute, a seed and a budget in; a complete, explained plan out.
 * Pure: the same four always give the same plan, to the byte. Nothing that is impossible makes it fail as a whole.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Minute } from "../domain/time.js";
import { findBindings } from "./because.js";
import { compile, type Compiled } from "./compile/compile.js";
import { construct, type PriorityRule, type Schedule } from "./core/construct.js";
import { explainUnplaced } from "./impossible.js";
import { costOf, type Costed } from "./report/cost.js";
import { buildPlan } from "./report/plan-report.js";

export interface PlanOptions {
  /** Nothing is planned before. */
  readonly asOf: Minute;
  /** Whole number; decides ties and the tries after the first ones. */
  readonly seed: number;
  /** How many schedules are built; the best is kept. At least 1. */
  readonly iterations: number;
}

/** Days looked ahead: what does not fit into three years is called impossible. */
const HORIZON_DAYS = 3 * 366;

/** Tried first, in this order; further tries mix them with chance. */
const RULES: readonly PriorityRule[] = [
  { bucketMinutes: 60, by: "slack", noise: 0 },
  { bucketMinutes: 0, by: "slack", noise: 0 },
  { bucketMinutes: 240, by: "slack", noise: 0 },
  { bucketMinutes: 480, by: "due", noise: 0 },
  { bucketMinutes: 60, by: "due", noise: 0 },
  { bucketMinutes: 60, by: "longest-tail", noise: 0 },
  { bucketMinutes: 240, by: "longest-tail", noise: 0 },
  { bucketMinutes: 480, by: "job", noise: 0 },
];

/** The best of `iterations` schedules as a plan. */
export function planCompany(company: Company, options: PlanOptions): Plan {
  const { asOf, seed, iterations } = options;
  const { compiled, schedule, costed } = findSchedule(company, asOf, seed, Math.max(1, iterations));
  const { timeline, choices, unplaced } = schedule;
  return buildPlan({
    compiled,
    timeline,
    costed,
    bindings: findBindings(timeline, choices),
    unplacedWhy: explainUnplaced(compiled, timeline, unplaced),
    seed,
    iterations,
  });
}

interface Found {
  readonly compiled: Compiled;
  readonly schedule: Schedule;
  readonly costed: Costed;
}

function findSchedule(company: Company, asOf: Minute, seed: number, iterations: number): Found {
  const compiled = compile(company, asOf, HORIZON_DAYS);
  let best: Found | null = null;
  for (let iteration = 0; iteration < iterations; iteration++) {
    const schedule = construct(compiled.problem, ruleAt(iteration), seed + iteration);
    const found = { compiled, schedule, costed: costOf(compiled, schedule.timeline, schedule.unplaced) };
    if (best === null || isBetter(found, best)) best = found;
  }
  if (best === null) throw new Error("a plan needs at least one iteration");
  return best;
}

function ruleAt(iteration: number): PriorityRule {
  const rule = RULES[iteration % RULES.length] ?? { bucketMinutes: 60, by: "slack", noise: 0 };
  return iteration < RULES.length ? rule : { ...rule, noise: 0.3 };
}

/** Fewer tasks left out, then cheaper, then finished earlier in sum. */
function isBetter(a: Found, b: Found): boolean {
  const left = a.schedule.unplaced.length - b.schedule.unplaced.length;
  if (left !== 0) return left < 0;
  const cheaper = a.costed.figures.total - b.costed.figures.total;
  if (cheaper !== 0) return cheaper < 0;
  return a.costed.totalFinish < b.costed.totalFinish;
}
