/**
 * One slip as the planner sees it: the company compiled once, the order to hold, what plans are compared with, and what a
 * schedule is worth. Longer days are variants of the same problem: only shifts differ.
 */
import type { Company, PublishedBlock } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import type { Minute } from "../../domain/time.js";
import { longestDays, shiftTable } from "../compile/calendars.js";
import { compile, type Compiled } from "../compile/compile.js";
import type { Choice } from "../core/construct.js";
import { PlacementMemo } from "../core/placement-memo.js";
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import { countChanges, listPublishedDates } from "../report/changes.js";
import { CostBook, type Costed } from "../report/cost.js";
import { applyEdits, type CompanyEdit } from "./company-edits.js";
import { FrozenPromises } from "./frozen-promises.js";
import { buildHeldOrder, type HeldOrder } from "./held-order.js";
import { readWork, type PlannedWork } from "./planned-work.js";
import type { IsKept } from "./wish-kept.js";

/** Days looked ahead, as in any plan. */
const HORIZON_DAYS = 3 * 366;

/** The company with some days made longer. */
export interface Variant {
  readonly recovery: Recovery;
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
  /**
   * The plan's total, with changes against the standing plan where nothing is published; far more where something published
   * inside the freeze is not kept, or a wish is given up.
   */
  readonly price: number;
}

/** What a dispatcher has wished for, applied. */
export interface Wished {
  readonly edits: readonly CompanyEdit[];
  readonly order: Plan;
  readonly checks: readonly ((compiled: Compiled) => IsKept)[];
}

/** What a wish that is given up costs: more than any plan. */
const GIVEN_UP = 1e9;
/** What published work inside the freeze costs that leaves its day or its crew. */
const UNKEPT = 1e6;

export class Recovery {
  readonly plain: Variant;
  readonly held: HeldOrder;
  readonly promises: FrozenPromises;
  /** Where activities went with crews in their usual hours. */
  readonly memo: PlacementMemo;
  /** What was published; for tasks that it does not know, the standing plan. */
  readonly reference: PlannedWork;
  readonly standingWork: PlannedWork;
  /** What is published, with no more in it than changes are counted by. */
  private readonly toBeCosted: Company["published"];
  private readonly kept: readonly IsKept[];
  private readonly changesAgainst: ReturnType<typeof listPublishedDates>;

  /**
   * `wished` are edits of the company that are made already, with the order that they ask for; without any the standing
   * plan is the order to hold.
   */
  constructor(
    readonly company: Company,
    readonly asOf: Minute,
    private readonly standing: Plan,
    readonly wished: Wished = { edits: [], order: standing, checks: [] },
  ) {
    const compiled = compile(company, asOf, HORIZON_DAYS);
    const isPublished = company.published !== null && company.published.length > 0;
    const publishedWork = isPublished ? readWork(company, company.published) : null;
    this.toBeCosted = publishedWork ? toOneBlockADay(publishedWork) : company.published;
    this.plain = { recovery: this, edits: [], compiled, book: this.makeBook(compiled) };
    this.held = buildHeldOrder(compiled, wished.order);
    this.promises = new FrozenPromises(compiled);
    this.memo = new PlacementMemo(compiled.problem);
    this.kept = wished.checks.map((make) => make(compiled));
    this.standingWork = readWork(company, standing.blocks);
    this.reference = publishedWork ? new Map([...this.standingWork, ...publishedWork]) : this.standingWork;
    this.changesAgainst = publishedWork
      ? null
      : listPublishedDates(withPublished(compiled, toOneBlockADay(this.standingWork)));
  }

  private makeBook(compiled: Compiled): CostBook {
    return new CostBook(withPublished(compiled, this.toBeCosted));
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
    return { recovery: this, edits, compiled: extended, book: this.makeBook(extended) };
  }

  /** The same with published work released, by task index: who takes a way that moves it says so. */
  release(tasks: Iterable<number>): Recovery {
    const { open } = this.plain.compiled;
    const edits = [...tasks].flatMap((task): CompanyEdit[] => {
      const facts = open[task];
      return facts ? [{ kind: "release", job: facts.job.id, task: facts.task.id }] : [];
    });
    if (edits.length === 0) return this;
    const wished = { ...this.wished, edits: [...this.wished.edits, ...edits] };
    return new Recovery(applyEdits(this.company, edits), this.asOf, this.standing, wished);
  }

  /** The wishes that a schedule does not keep, by their place. */
  listGivenUp(timeline: Timeline): readonly number[] {
    return this.kept.flatMap((isKept, place) => (isKept(timeline) ? [] : [place]));
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
    const givenUp = this.listGivenUp(timeline).length;
    const unkept = this.promises.listUnkept(timeline).size;
    const price = costed.figures.total + changes * change + givenUp * GIVEN_UP + unkept * UNKEPT;
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

function withPublished(compiled: Compiled, published: Company["published"]): Compiled {
  return { ...compiled, company: { ...compiled.company, published } };
}

/** One block for each task and crew-day: all that counting changes looks at, and much quicker to read than all blocks. */
function toOneBlockADay(work: PlannedWork): readonly PublishedBlock[] {
  return [...work.values()].flatMap(({ job, task, days }) =>
    days.map(({ crew, date }) => ({
      crew,
      kind: "work" as const,
      job,
      task,
      units: null,
      // A bare date is its first moment.
      start: date,
      end: date,
      released: true,
    })),
  );
}
