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
import { CostBook, type Costed } from "./report/cost.js";
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
  { bucketMinutes: 60, by: "slack", crew: "soonest", noise: 0 },
  { bucketMinutes: 0, by: "slack", crew: "soonest", noise: 0 },
  { bucketMinutes: 240, by: "slack", crew: "soonest", noise: 0 },
  { bucketMinutes: 480, by: "due", crew: "soonest", noise: 0 },
  { bucketMinutes: 60, by: "due", crew: "soonest", noise: 0 },
  { bucketMinutes: 60, by: "longest-tail", crew: "soonest", noise: 0 },
  { bucketMinutes: 240, by: "longest-tail", crew: "soonest", noise: 0 },
  { bucketMinutes: 480, by: "job", crew: "soonest", noise: 0 },
];

/** The best of `iterations` schedules as a plan. */
export function planCompany(company: Company, options: PlanOptions): Plan {
  const search = new PlanSearch(company, options);
  while (search.step());
  return search.toPlan();
}

interface Found {
  readonly compiled: Compiled;
  readonly schedule: Schedule;
  readonly costed: Costed;
}

/**
 * Planning as a value that is stepped: whoever steps it decides when to stop, and it has a complete plan at any time.
 */
export class PlanSearch {
  private readonly compiled: Compiled;
  private readonly book: CostBook;
  private best: Found;
  /** Schedules built so far. */
  iteration = 0;

  /** Builds a first plan at once. */
  constructor(
    company: Company,
    private readonly options: PlanOptions,
  ) {
    this.compiled = compile(company, options.asOf, HORIZON_DAYS);
    this.book = new CostBook(this.compiled);
    this.best = this.construct();
  }

  /** The cost of the best plan so far. */
  get cost(): number {
    return this.best.costed.figures.total;
  }

  /** Works on for a while; false when the budget of iterations is used up. */
  step(): boolean {
    if (this.iteration >= this.options.iterations) return false;
    const found = this.construct();
    if (isBetter(found, this.best)) this.best = found;
    return true;
  }

  /** The best plan so far, explained. */
  toPlan(): Plan {
    const { compiled, schedule, costed } = this.best;
    const { timeline, choices, unplaced } = schedule;
    return buildPlan({
      compiled,
      timeline,
      costed,
      bindings: findBindings(timeline, choices),
      unplacedWhy: explainUnplaced(compiled, timeline, unplaced),
      seed: this.options.seed,
      iterations: this.iteration,
    });
  }

  private construct(): Found {
    const { compiled, iteration } = this;
    this.iteration += 1;
    const schedule = construct(compiled.problem, ruleAt(iteration), this.options.seed + iteration);
    return { compiled, schedule, costed: this.book.costOf(schedule.timeline, schedule.unplaced) };
  }
}

function ruleAt(iteration: number): PriorityRule {
  const rule = RULES[iteration % RULES.length] ?? {
    bucketMinutes: 60,
    by: "slack",
    crew: "soonest",
    noise: 0,
  };
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
