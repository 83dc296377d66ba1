/**
 * Steps a search until its budget is used up or somebody stops it. The clock is read here and never by the planner: it
 * decides only when to stop and when to tell, not what is found, so that equal iterations give equal plans.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Minute } from "../domain/time.js";
import { PlanSearch } from "../planner/plan.js";
import { USUAL_ITERATIONS } from "./planning-budget.js";
import { DROP, GO_ON, type PlanningBudget, type PlanningProgress } from "./planning-messages.js";

/** More schedules than any search builds; the same number always, because a search takes its pace from it. */
export const NO_LIMIT = Number.MAX_SAFE_INTEGER;
/** Progress is told at most ten times a second. */
const TELL_EVERY_MS = 100;
/** A draft is made no sooner than this many times what the last one took, so that drafts take a tenth of the time. */
const DRAFT_SHARE = 10;

export interface PlanningHooks {
  /** Milliseconds on a clock that never goes back. */
  readonly now: () => number;
  /** `GO_ON`, `STOP` or `DROP`; asked between two steps. */
  readonly flag: () => number;
  readonly onProgress: (progress: PlanningProgress) => void;
  /** Gets complete plans on the way: the first one before any progress is told. Absent: none are made. */
  readonly onDraft?: (plan: Plan) => void;
}

export interface PlanningOrder {
  readonly company: Company;
  readonly asOf: Minute;
  readonly seed: number;
  readonly budget: PlanningBudget;
  /** A plan that stands, to begin with. */
  readonly from?: Plan;
}

/** The best plan that was found; undefined when the order was dropped. */
export function runPlanning(order: PlanningOrder, hooks: PlanningHooks): Plan | undefined {
  const { company, asOf, seed, budget, from } = order;
  const startedAt = hooks.now();
  const { iterations, milliseconds } = limitsOf(budget);
  const search = new PlanSearch(company, { asOf, seed, iterations, ...(from && { from }) });
  const drafts = new Drafts(search, hooks);
  let toldAt = -Infinity;
  const tell = (): void => {
    const now = hooks.now();
    if (now - toldAt < TELL_EVERY_MS) return;
    toldAt = now;
    hooks.onProgress({ iteration: search.iteration, cost: search.cost, milliseconds: now - startedAt });
  };
  drafts.make();
  tell();
  while (hooks.flag() === GO_ON && hooks.now() - startedAt < milliseconds && search.step()) {
    drafts.renew();
    tell();
  }
  return hooks.flag() === DROP ? undefined : search.toPlan();
}

/** Both limits of a search: one that is not given is never reached. */
export function limitsOf({ iterations, milliseconds }: PlanningBudget): Required<PlanningBudget> {
  return {
    iterations: iterations ?? (milliseconds === undefined ? USUAL_ITERATIONS : NO_LIMIT),
    milliseconds: milliseconds ?? Infinity,
  };
}

/** Explaining a large plan takes longer than a stop may: so the best so far is explained now and then on the way. */
class Drafts {
  #cost = NaN;
  #madeAt = 0;
  #tookMs = 0;

  constructor(
    private readonly search: PlanSearch,
    private readonly hooks: PlanningHooks,
  ) {}

  make(): void {
    if (this.hooks.onDraft === undefined) return;
    const before = this.hooks.now();
    this.#cost = this.search.cost;
    this.hooks.onDraft(this.search.toPlan());
    this.#madeAt = this.hooks.now();
    this.#tookMs = this.#madeAt - before;
  }

  /** Makes another draft where the best has changed and the last one is long enough ago. */
  renew(): void {
    if (this.search.cost === this.#cost) return;
    if (this.hooks.now() - this.#madeAt >= DRAFT_SHARE * this.#tookMs) this.make();
  }
}
