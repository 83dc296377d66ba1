/**
 * The plans that people have seen, kept to the byte with all that it takes to make them again. Whoever listens on PLANS
 * hears of each one with the version of the company that it is for.
 */
import type { Database, Queries } from "./database.js";

/** The channel on which a new plan tells the version of its company. */
export const PLANS = "daylap_plan";

/** How a plan was made, and what it costs. */
export interface PlanOrigin {
  readonly companyVersion: number;
  readonly madeAt: Date;
  readonly asOf: Date;
  readonly seed: number;
  /** Schedules built. */
  readonly iterations: number;
  /** Schedules that the search was told to build at most, which sets its pace; null where only time was its limit. */
  readonly budget: number | null;
  /** The plan that the search began from. */
  readonly fromPlan: number | null;
  /** Of the program that made it: another one may plan otherwise. */
  readonly plannerVersion: string;
  readonly cost: number;
}

export interface KeptPlan extends PlanOrigin {
  readonly id: number;
  /** JSON, to the byte as it was made. */
  readonly body: string;
  /** Of a plan that no search made, such as a way out of a slip: what it was asked for, as JSON. Null for any other. */
  readonly way?: unknown;
}

const ORIGIN = `id, company_version as "companyVersion", made_at as "madeAt", as_of as "asOf", seed, iterations, budget,
  from_plan as "fromPlan", planner_version as "plannerVersion", cost`;

export class PlanStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Keeps a plan and tells of it; the number that it got. */
  keep(plan: Omit<KeptPlan, "id">): Promise<number> {
    return this.#database.transaction((queries) => insertPlan(queries, plan));
  }

  /** The newest plan of a version of the company, or undefined. */
  findNewest(companyVersion: number): Promise<KeptPlan | undefined> {
    return findNewestPlan(this.#database, companyVersion);
  }

  /** Whether it is still there: after a restore another plan may have its number. */
  async has(plan: { readonly id: number; readonly madeAt: Date }): Promise<boolean> {
    const rows = await this.#database.query("select 1 from plan where id = $1 and made_at = $2", [
      plan.id,
      plan.madeAt,
    ]);
    return rows.length > 0;
  }

  async find(id: number): Promise<KeptPlan | undefined> {
    return findPlan(this.#database, id);
  }

  /** Newest first; the plans before the one of that number, where one is given. */
  async list(limit: number, before?: number): Promise<readonly (PlanOrigin & { readonly id: number })[]> {
    return this.#database.query(
      `select ${ORIGIN} from plan where ($2::bigint is null or id < $2) order by id desc limit $1`,
      [limit, before ?? null],
    );
  }
}

/** The newest plan of a version of the company, or undefined. */
export async function findNewestPlan(
  queries: Queries,
  companyVersion: number,
): Promise<KeptPlan | undefined> {
  const [row] = await queries.query<KeptPlan>(
    `select ${ORIGIN}, way, body from plan where company_version = $1 order by id desc limit 1`,
    [companyVersion],
  );
  return row;
}

/** The version of the company that a plan is of; undefined where there is no such plan. */
export async function findPlanVersion(queries: Queries, id: number): Promise<number | undefined> {
  const [row] = await queries.query<{ version: number }>(
    "select company_version as version from plan where id = $1",
    [id],
  );
  return row?.version;
}

/** The first plan of a version of the company: of a version that published, the plan that was published. */
export async function findFirstPlan(queries: Queries, companyVersion: number): Promise<KeptPlan | undefined> {
  const [row] = await queries.query<KeptPlan>(
    `select ${ORIGIN}, way, body from plan where company_version = $1 order by id limit 1`,
    [companyVersion],
  );
  return row;
}

/** The plan that stood before a version of the company: the newest of the nearest version before it that has one. */
export async function findPlanBefore(
  queries: Queries,
  companyVersion: number,
): Promise<KeptPlan | undefined> {
  const [row] = await queries.query<KeptPlan>(
    `select ${ORIGIN}, way, body from plan where company_version < $1 order by company_version desc, id desc limit 1`,
    [companyVersion],
  );
  return row;
}

/** Keeps a plan within a transaction of the caller's, whose commit tells of it. */
export async function insertPlan(queries: Queries, plan: Omit<KeptPlan, "id">): Promise<number> {
  const [row] = await queries.query<{ id: number }>(
    `insert into plan
       (company_version, made_at, as_of, seed, iterations, budget, from_plan, planner_version, cost, body, way)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
    [
      plan.companyVersion,
      plan.madeAt,
      plan.asOf,
      plan.seed,
      plan.iterations,
      plan.budget,
      plan.fromPlan,
      plan.plannerVersion,
      plan.cost,
      plan.body,
      plan.way === undefined || plan.way === null ? null : JSON.stringify(plan.way),
    ],
  );
  await queries.query("select pg_notify($1, $2)", [PLANS, String(plan.companyVersion)]);
  return row?.id ?? 0;
}

/** The plan of that number, or undefined. */
export async function findPlan(queries: Queries, id: number): Promise<KeptPlan | undefined> {
  const [row] = await queries.query<KeptPlan>(`select ${ORIGIN}, way, body from plan where id = $1`, [id]);
  return row;
}
