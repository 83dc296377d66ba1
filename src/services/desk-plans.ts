/**
 * The plans of a desk: for each version of the company and each date one quick plan, made by one process and taken by
 * the others, and the search for a better one behind it. Every plan that people see is kept with what it takes to make
 * it again to the byte.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { present } from "../domain/result.js";
import { civilDateAt, minuteOfDate, parseInstant, type CivilDate, type Minute } from "../domain/time.js";
import type { MoveWish } from "../planner/moving/move-refusal.js";
import { PLANNER_VERSION } from "../planner/planner-version.js";
import { toStillPlan } from "../planner/still-plan.js";
import type { Database } from "../store/database.js";
import { PlanStore, type KeptPlan } from "../store/plan-store.js";
import type { Clock } from "./clock.js";
import type { DeskWire } from "./desk-wire.js";
import { Improvement, isBetterPlan } from "./improvement.js";
import type { PlanningBudget, PlanningProgress } from "./planning-messages.js";
import type { PlanningWorker } from "./planning-worker.js";
import { limitsOf, NO_LIMIT } from "./run-planning.js";

export interface PlanSettings {
  readonly seed: number;
  /** Of the quick plan that becomes visible with a change. */
  readonly iterations: number;
  /** What is spent on a better plan after that; nothing where left out. Repeatable where it counts iterations alone. */
  readonly improving?: PlanningBudget;
}

/** A plan that people look at. */
export interface StandingPlan {
  readonly id: number;
  readonly companyVersion: number;
  readonly madeAt: Date;
  readonly plan: Plan;
  /** The date that it was made for, in the company's zone. */
  readonly date: CivilDate;
}

/** What a plan was made from, beside the company and the seed. */
export interface PlanBeginning {
  readonly asOf: Minute;
  readonly budget: number | null;
  readonly fromPlan: number | null;
}

export class DeskPlans {
  readonly #store: PlanStore;
  readonly #worker: PlanningWorker;
  readonly #wire: DeskWire;
  readonly #clock: Clock;
  readonly #settings: PlanSettings;
  readonly #log: (error: unknown) => void;
  #improvement: Improvement | undefined;
  #keeping: Promise<void> = Promise.resolve();
  #isStopped = false;

  constructor(
    database: Database,
    worker: PlanningWorker,
    wire: DeskWire,
    clock: Clock,
    settings: PlanSettings,
    log: (error: unknown) => void,
  ) {
    this.#store = new PlanStore(database);
    this.#worker = worker;
    this.#wire = wire;
    this.#clock = clock;
    this.#settings = settings;
    this.#log = log;
  }

  /** How far the search for a better plan has come; null where none goes on. */
  get progress(): PlanningProgress | null {
    return this.#improvement?.progress ?? null;
  }

  /** Resolves when the search that was stopped has ended and what it found is kept. */
  get over(): Promise<void> {
    return Promise.resolve(this.#improvement?.over).then(() => this.#keeping);
  }

  stop(): void {
    this.#isStopped = true;
    this.#improvement?.stop();
  }

  /** Ends the search for a better plan; when it resolves, what was found is kept and stands. */
  async rest(): Promise<void> {
    this.#improvement?.stop();
    await this.over;
  }

  /** The plan that is kept under a number, where it is of that version of the company. */
  async findOf(companyVersion: number, id: number): Promise<Plan | undefined> {
    const kept = await this.#store.find(id);
    return kept?.companyVersion === companyVersion ? toPlan(kept) : undefined;
  }

  /**
   * The plan of a version of the company for today: a kept one, one that another process is making, or one made here
   * and now, which is then improved. Undefined where planning was stopped.
   */
  async planOf(
    companyVersion: number,
    company: Company,
    standing: StandingPlan | undefined,
    onBetter: (plan: StandingPlan) => void,
  ): Promise<StandingPlan | undefined> {
    while (!this.#isStopped) {
      const kept = await this.#findKept(companyVersion, company);
      if (kept !== undefined) {
        if (standing === undefined) this.#improve(company, kept, onBetter);
        else if (standing.companyVersion !== companyVersion) this.#improvement?.stop();
        return kept;
      }
      const told = this.#wire.next();
      const made = await this.#wire.alone(companyVersion, async () => {
        // Another process may have come first, between the look and the lock.
        const meanwhile = await this.#findKept(companyVersion, company);
        if (meanwhile !== undefined) return meanwhile;
        return this.#makeQuickly(companyVersion, company, standing);
      });
      if (made !== undefined) {
        this.#improve(company, made, onBetter);
        return made;
      }
      await told;
    }
    return undefined;
  }

  /** A plan made by hand from the one that stands, to be kept with the change that it belongs to. */
  toKeep(
    plan: Plan,
    asOf: Minute,
    from: StandingPlan,
    move: MoveWish,
  ): Omit<KeptPlan, "id" | "companyVersion"> {
    // It would have the thread, and what it found would no longer be of this company.
    this.#improvement?.stop();
    const way: MoveOrigin = { move };
    return { ...toKept(plan, { asOf, budget: null, fromPlan: from.id }), way };
  }

  async #findKept(companyVersion: number, company: Company): Promise<StandingPlan | undefined> {
    const kept = await this.#store.findNewest(companyVersion);
    if (kept === undefined || kept.plannerVersion !== PLANNER_VERSION) return undefined;
    const zone = company.company.timeZone;
    const date = civilDateAt(minuteOfDate(kept.asOf), zone);
    if (date !== civilDateAt(this.#clock(), zone)) return undefined;
    return { id: kept.id, companyVersion, madeAt: kept.madeAt, plan: toPlan(kept), date };
  }

  async #makeQuickly(
    companyVersion: number,
    company: Company,
    standing: StandingPlan | undefined,
  ): Promise<StandingPlan> {
    this.#improvement?.stop();
    const from = standing !== undefined && (await this.#store.has(standing)) ? standing : undefined;
    const asOf = this.#clock();
    const { seed, iterations } = this.#settings;
    const order = { asOf, seed, iterations, ...(from && { from: from.plan }) };
    const plan = await this.#worker.plan(company, order);
    return this.#keep(companyVersion, company, plan, {
      asOf,
      budget: iterations,
      fromPlan: from?.id ?? null,
    });
  }

  async #keep(
    companyVersion: number,
    company: Company,
    plan: Plan,
    beginning: PlanBeginning,
  ): Promise<StandingPlan> {
    const kept = toKept(plan, beginning);
    const { madeAt } = kept;
    const id = await this.#store.keep({ ...kept, companyVersion });
    return { id, companyVersion, madeAt, plan, date: civilDateAt(beginning.asOf, company.company.timeZone) };
  }

  /** Looks for a better plan of the same company, and keeps it where there is one. */
  #improve(company: Company, shown: StandingPlan, onBetter: (plan: StandingPlan) => void): void {
    const { improving, seed } = this.#settings;
    this.#improvement?.stop();
    if (improving === undefined || this.#isStopped) return;
    const asOf = this.#clock();
    const order = { asOf, seed, from: shown.plan, ...improving };
    const { iterations } = limitsOf(improving);
    const budget = iterations === NO_LIMIT ? null : iterations;
    this.#improvement = new Improvement(this.#worker, company, shown.plan, order, {
      onFound: (plan) => {
        if (!isBetterPlan(plan, shown.plan)) return;
        this.#keeping = this.#keeping
          .then(() => this.#keep(shown.companyVersion, company, plan, { asOf, budget, fromPlan: shown.id }))
          .then(onBetter)
          .catch(this.#log);
      },
      onBug: this.#log,
    });
  }
}

/** What a plan is kept with that is another plan, published. */
export interface StillOrigin {
  readonly stands: true;
}

/** The plan that stands, to be kept with the change that publishes it. */
export function toStillKept(company: Company, from: StandingPlan): Omit<KeptPlan, "id" | "companyVersion"> {
  const plan = toStillPlan(from.plan, company.policy);
  const asOf = present(parseInstant(plan.asOf, company.company.timeZone), "the time of a plan");
  const way: StillOrigin = { stands: true };
  return { ...toKept(plan, { asOf, budget: null, fromPlan: from.id }), way };
}

/** What a plan is kept with that is the plan before, for a change that altered nothing of the company. */
export interface SameOrigin {
  readonly same: true;
}

/** The plan that stands, to be kept with a change after which there is nothing to plan again. */
export function toSameKept(company: Company, from: StandingPlan): Omit<KeptPlan, "id" | "companyVersion"> {
  const asOf = present(parseInstant(from.plan.asOf, company.company.timeZone), "the time of a plan");
  const way: SameOrigin = { same: true };
  return { ...toKept(from.plan, { asOf, budget: null, fromPlan: from.id }), way };
}

/** What a plan is kept with that somebody has moved work in. */
export interface MoveOrigin {
  readonly move: MoveWish;
}

/** A plan with what it takes to make it again, to be kept. */
export function toKept(
  plan: Plan,
  { asOf, budget, fromPlan }: PlanBeginning,
): Omit<KeptPlan, "id" | "companyVersion"> {
  return {
    madeAt: new Date(),
    asOf: dateOfMinute(asOf),
    seed: plan.seed,
    iterations: plan.iterations,
    budget,
    fromPlan,
    plannerVersion: PLANNER_VERSION,
    cost: plan.cost.total,
    body: JSON.stringify(plan),
  };
}

/** Proof of the cast: only plans of this program are kept, as their own JSON. */
export function toPlan({ body }: Pick<KeptPlan, "body">): Plan {
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion
  return JSON.parse(body) as Plan;
}

function dateOfMinute(minute: Minute): Date {
  return new Date(minute * 60_000);
}
