/**
 * The planner's door: a company as it stands, a minute, a seed and a budget in; a complete, explained plan out.
 * Pure: the same four always give the same plan, to the byte. Nothing that is impossible makes it fail as a whole.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { present } from "../domain/result.js";
import type { Minute } from "../domain/time.js";
import { findBindings } from "./because.js";
import { compile, type Compiled } from "./compile/compile.js";
import { construct, type Choice, type PriorityRule } from "./core/construct.js";
import { DaysDecoder } from "./core/days-decoder.js";
import type { Search } from "./core/search.js";
import { searchWith } from "./core/start-search.js";
import type { Timeline } from "./core/timeline.js";
import { genomeOfPlan } from "./genome-of-plan.js";
import { explainUnplaced } from "./impossible.js";
import { CostBook, type Costed } from "./report/cost.js";
import { buildPlan } from "./report/plan-report.js";

export interface PlanOptions {
  /** Nothing is planned before. */
  readonly asOf: Minute;
  /** Whole number; decides where the search looks. */
  readonly seed: number;
  /** How many schedules are built; the best is kept. At least 1. */
  readonly iterations: number;
  /** A plan to begin with: what comes out is no worse than its crews and order are for the company as it stands. */
  readonly from?: Plan;
}

/** Days looked ahead: what does not fit into three years is called impossible. */
const HORIZON_DAYS = 3 * 366;

const ALL = Infinity;

/** The first plan is quick; the others weigh crews by cost, a day of delay being worth more and more. */
const RULES: readonly PriorityRule[] = [
  { bucketMinutes: 60, by: "slack", crew: "soonest", compared: 2 },
  { bucketMinutes: 0, by: "slack", crew: { dayValue: 1 }, compared: ALL },
  { bucketMinutes: 60, by: "slack", crew: { dayValue: 5 }, compared: ALL },
  { bucketMinutes: 1440, by: "slack", crew: { dayValue: 20 }, compared: ALL },
  { bucketMinutes: 0, by: "due", crew: { dayValue: 5 }, compared: ALL },
  { bucketMinutes: 60, by: "longest-tail", crew: { dayValue: 50 }, compared: ALL },
  { bucketMinutes: 0, by: "slack", crew: "soonest", compared: ALL },
  { bucketMinutes: 240, by: "slack", crew: { dayValue: 0 }, compared: ALL },
  { bucketMinutes: 480, by: "due", crew: "soonest", compared: ALL },
  { bucketMinutes: 240, by: "longest-tail", crew: "soonest", compared: ALL },
];

/** The best of `iterations` schedules as a plan. */
export function planCompany(company: Company, options: PlanOptions): Plan {
  const search = new PlanSearch(company, options);
  while (search.step());
  return search.toPlan();
}

/** With more activities than this a rule takes so long that only the first ones are tried before the search. */
const LARGE = 400;
const RULES_IF_LARGE = 3;

interface Found {
  readonly timeline: Timeline;
  readonly choices: readonly Choice[];
  readonly firstCount: number;
  readonly unplaced: readonly number[];
  readonly costed: Costed;
}

/**
 * Planning as a value that is stepped: a first plan at once, then priority rules that choose crews by cost, then the
 * search over orders and staffings. Whoever steps it decides when to stop; it has a complete plan at any time.
 */
export class PlanSearch {
  private readonly compiled: Compiled;
  private readonly book: CostBook;
  private best: Found;
  private search: Search | null = null;
  private rulesTried = 0;
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
    if (options.from) this.decodePlan(options.from);
  }

  /** The cost of the best plan so far. */
  get cost(): number {
    return this.best.costed.figures.total;
  }

  /** Whether the priority rules are through and the search over orders and staffings is next. */
  get hasTriedRules(): boolean {
    const isLarge = this.compiled.problem.activities.length > LARGE;
    return this.rulesTried >= (isLarge ? RULES_IF_LARGE : RULES.length);
  }

  /** How many activities the best plan so far leaves out: fewer are better whatever the cost. */
  get leftOut(): number {
    return this.best.unplaced.length;
  }

  /** Works on for a while; false when the budget of iterations is used up or there is nothing left to try. */
  step(): boolean {
    if (this.iteration >= this.options.iterations) return false;
    if (!this.hasTriedRules) {
      const found = this.construct();
      if (isBetter(found, this.best)) this.best = found;
      return true;
    }
    if (this.search === null) {
      this.search = this.startSearch();
      this.iteration += this.search.schedules;
      return true;
    }
    const before = this.search.schedules;
    const goesOn = this.search.step();
    this.iteration += this.search.schedules - before;
    return goesOn;
  }

  /** The best plan so far, explained. */
  toPlan(): Plan {
    const { compiled, best } = this;
    return buildPlan({
      compiled,
      timeline: best.timeline,
      costed: best.costed,
      bindings: findBindings(best.timeline, best.choices),
      unplacedWhy: explainUnplaced(compiled, best.timeline, best.unplaced),
      seed: this.options.seed,
      iterations: this.iteration,
    });
  }

  private construct(): Found {
    const rule = present(RULES[this.rulesTried], "a priority rule");
    this.rulesTried += 1;
    this.iteration += 1;
    const schedule = construct(this.compiled.problem, rule);
    return { ...schedule, costed: this.book.costOf(schedule.timeline, schedule.unplaced) };
  }

  /** A decoder that keeps what it finds better; what comes before everything else is as in the best plan so far. */
  private buildDecoder(): DaysDecoder {
    const { choices, firstCount } = this.best;
    const decoder: DaysDecoder = new DaysDecoder(
      this.compiled.problem,
      choices.slice(0, firstCount).map(({ activity }) => activity),
      (timeline, unplaced) => {
        const costed = this.book.costOf(timeline, unplaced);
        const found = { timeline, choices: decoder.choices, firstCount, unplaced, costed };
        if (isBetter(found, this.best)) this.best = found;
        return { cost: costed.figures.total, tie: costed.totalFinish };
      },
    );
    return decoder;
  }

  private decodePlan(plan: Plan): void {
    const { order, staffing } = genomeOfPlan(this.compiled, plan, this.best.timeline, this.staffingOfBest());
    this.iteration += 1;
    this.buildDecoder().decode(order, staffing);
  }

  private staffingOfBest(): Int32Array {
    const staffing = new Int32Array(this.compiled.problem.activities.length);
    for (const choice of this.best.choices) staffing[choice.activity] = choice.staffing;
    return staffing;
  }

  /** The search goes on from the best plan so far. */
  private startSearch(): Search {
    const { seed, iterations } = this.options;
    const { choices, firstCount, unplaced } = this.best;
    const fixed = new Set(choices.slice(0, firstCount).map((choice) => choice.activity));
    const order = Int32Array.from([...choices.map((choice) => choice.activity), ...unplaced]);
    return searchWith(this.buildDecoder(), {
      seed,
      from: { order, staffing: this.staffingOfBest() },
      fixed,
      schedules: iterations - this.iteration,
    });
  }
}

/** Fewer tasks left out, then cheaper, then finished earlier in sum. */
function isBetter(a: Found, b: Found): boolean {
  const left = a.unplaced.length - b.unplaced.length;
  if (left !== 0) return left < 0;
  const cheaper = a.costed.figures.total - b.costed.figures.total;
  if (cheaper !== 0) return cheaper < 0;
  return a.costed.totalFinish < b.costed.totalFinish;
}
