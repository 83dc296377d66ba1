/**
 * One slip as the planner sees it: the company compiled once, the order to hold, what plans are compared with, and what a
 * schedule is worth. Longer days are variants of the same problem: only shifts differ.
 */
import type { Company } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import type { Minute } from "../../domain/time.js";
import { longestDays, shiftTable } from "../compile/calendars.js";
import { compile, type Compiled } from "../compile/compile.js";
import type { Choice } from "../core/construct.js";
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import { countChanges, listPublishedDates } from "../report/changes.js";
import { CostBook, type Costed } from "../report/cost.js";
import { applyEdits, type CompanyEdit } from "./company-edits.js";
import { buildHeldOrder, type HeldOrder } from "./held-order.js";
import { readWork, type PlannedWork } from "./planned-work.js";

/** Days looked ahead, as in any plan. */
const HORIZON_DAYS = 3 * 366;

/** The company with some days made longer. */
export interface Variant {
  readonly edits: readonly CompanyEdit[];
  readonly compiled: Compiled;
  readonly book: CostBook;
}

/** A decoded schedule of a variant, and what it is worth. */
export interface Solved {
  readonly variant: Variant;
  /** That it was decoded by: the variant's, with fewer choices. */
  readonly problem: Problem;
  readonly timeline: Timeline;
  readonly choices: readonly Choice[];
  readonly unplaced: readonly number[];
  readonly costed: Costed;
  /** The plan's total, with changes against the standing plan where nothing is published. */
  readonly price: number;
}

export class Recovery {
  readonly plain: Variant;
  readonly held: HeldOrder;
  /** What was published; for tasks that it does not know, the standing plan. */
  readonly reference: PlannedWork;
  readonly standingWork: PlannedWork;
  private readonly changesAgainst: ReturnType<typeof listPublishedDates>;

  constructor(
    readonly company: Company,
    readonly asOf: Minute,
    readonly standing: Plan,
  ) {
    const compiled = compile(company, asOf, HORIZON_DAYS);
    this.plain = { edits: [], compiled, book: new CostBook(compiled) };
    this.held = buildHeldOrder(compiled, standing);
    this.standingWork = readWork(company, standing.blocks);
    const isPublished = company.published !== null && company.published.length > 0;
    this.reference = isPublished
      ? new Map([...this.standingWork, ...readWork(company, company.published)])
      : this.standingWork;
    const standingBlocks = standing.blocks.map((block) => ({ ...block, released: true }));
    this.changesAgainst = isPublished
      ? null
      : listPublishedDates({ ...compiled, company: { ...company, published: standingBlocks } });
  }

  /** The company with longer days. What depends on nothing else is shared. */
  extend(edits: readonly CompanyEdit[]): Variant {
    if (edits.length === 0) return this.plain;
    const { compiled } = this.plain;
    const company = applyEdits(this.company, edits);
    const { days, problem } = compiled;
    const stretched = company.crews.map((crew) => new Set(crew.stretch));
    const extended: Compiled = {
      ...compiled,
      company,
      problem: {
        ...problem,
        shift: shiftTable(company, days, problem.dayCount),
        longestDay: longestDays(company),
        stretched: (crew, day) => stretched[crew]?.has(days.date(day)) === true,
      },
    };
    return { edits, compiled: extended, book: new CostBook(extended) };
  }

  solve(
    variant: Variant,
    problem: Problem,
    timeline: Timeline,
    choices: readonly Choice[],
    unplaced: readonly number[],
  ): Solved {
    const costed = variant.book.costOf(timeline, unplaced);
    const { change } = this.company.policy.cost;
    const changes = this.changesAgainst ? countChanges(variant.compiled, timeline, this.changesAgainst) : 0;
    const price = costed.figures.total + changes * change;
    return { variant, problem, timeline, choices, unplaced, costed, price };
  }
}

/** Fewer tasks left out, then cheaper, then finished earlier in sum. */
export function isBetter(one: Solved, other: Solved): boolean {
  const left = one.unplaced.length - other.unplaced.length;
  if (left !== 0) return left < 0;
  return (
    one.price < other.price ||
    (one.price === other.price && one.costed.totalFinish < other.costed.totalFinish)
  );
}
