/**
 * A kept plan made again from what was kept with it: the company as it stood then, the time, the seed, the plan that the
 * search began from, and how far it came. Says whether the same plan comes out, to the byte.
 */
import { setImmediate } from "node:timers/promises";
import { formatFault, parseCompany } from "../domain/company-file.js";
import type { Plan } from "../domain/plan-format.js";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import { minuteOfDate } from "../domain/time.js";
import { moveTask } from "../planner/moving/move-task.js";
import { PlanSearch } from "../planner/plan.js";
import { PLANNER_VERSION } from "../planner/planner-version.js";
import { toStillPlan } from "../planner/still-plan.js";
import type { Database } from "../store/database.js";
import { PlanStore, type KeptPlan } from "../store/plan-store.js";
import { findSourceAt } from "../store/record-store.js";
import type { SameOrigin, StillOrigin } from "./desk-plans.js";
import type { MoveOrigin } from "./desk-plans.js";
import { NO_LIMIT } from "./run-planning.js";
import type { WayOrigin } from "./ways.js";
import { remakeWay } from "./ways-desk.js";

export interface Replay {
  readonly kept: KeptPlan;
  /** JSON of the plan that came out now. */
  readonly body: string;
  /** Whether it is the kept one, to the byte. */
  readonly isEqual: boolean;
  /** Whether this program plans as the one did that made the kept plan; if not, nothing was promised. */
  readonly isSamePlanner: boolean;
}

/** How long it works before others get their turn. */
const TURN_MS = 20;

/** Makes the plan of that number again; fails with a sentence where what it was made from is gone. */
export async function replayPlan(database: Database, id: number): Promise<Result<Replay, string>> {
  const plans = new PlanStore(database);
  const kept = await plans.find(id);
  if (kept === undefined) return fail(`There is no plan ${id} on record.`);
  const from = kept.fromPlan === null ? undefined : await plans.find(kept.fromPlan);
  if (kept.fromPlan !== null && from === undefined) {
    return fail(`Plan ${id} was begun from plan ${kept.fromPlan}, which is not on record.`);
  }
  const { way } = kept;
  // A way out was made of the company that its slip had not happened to yet, as the plan before it was.
  const version = way == null ? kept.companyVersion : (from?.companyVersion ?? kept.companyVersion);
  const source = await database.transaction((queries) => findSourceAt(queries, version));
  if (source === undefined) return fail(`There was no company yet at version ${version}.`);
  const company = parseCompany(source);
  if (!company.ok) {
    return fail(
      `The company of plan ${id} is no longer a valid one: ${company.error.map(formatFault).join(" ")}`,
    );
  }
  const isSamePlanner = kept.plannerVersion === PLANNER_VERSION;
  if (way != null && from !== undefined && isStill(way)) {
    const body = JSON.stringify(toStillPlan(toPlan(from), company.value.policy));
    return ok({ kept, body, isEqual: body === kept.body, isSamePlanner });
  }
  if (from !== undefined && isSame(way)) {
    const body = JSON.stringify(toPlan(from));
    return ok({ kept, body, isEqual: body === kept.body, isSamePlanner });
  }
  if (way != null && from !== undefined && isMove(way)) {
    const order = { asOf: minuteOfDate(kept.asOf), seed: kept.seed, standing: toPlan(from) };
    const moved = moveTask(company.value, order, way.move);
    if (!moved.ok) return fail(`What plan ${id} moved cannot be moved any more.`);
    const body = JSON.stringify(moved.value.explain());
    return ok({ kept, body, isEqual: body === kept.body, isSamePlanner });
  }
  if (way != null && from !== undefined) {
    const before = { source, company: company.value, plan: toPlan(from) };
    // Proof of the cast: only ways of this program are kept, as their own JSON.
    // oxlint-disable-next-line typescript/no-unsafe-type-assertion
    const plan = remakeWay(before, way as WayOrigin, minuteOfDate(kept.asOf), kept.seed);
    if (plan === undefined) return fail(`The slip of plan ${id} is not one that can be recorded any more.`);
    const body = JSON.stringify(plan);
    return ok({ kept, body, isEqual: body === kept.body, isSamePlanner });
  }
  const search = new PlanSearch(company.value, {
    asOf: minuteOfDate(kept.asOf),
    seed: kept.seed,
    iterations: kept.budget ?? NO_LIMIT,
    ...(from && { from: toPlan(from) }),
  });
  await stepTo(search, kept.iterations);
  const body = JSON.stringify(search.toPlan());
  return ok({ kept, body, isEqual: body === kept.body, isSamePlanner });
}

function isStill(way: unknown): way is StillOrigin {
  return typeof way === "object" && way !== null && "stands" in way;
}

function isSame(way: unknown): way is SameOrigin {
  return typeof way === "object" && way !== null && "same" in way;
}

function isMove(way: unknown): way is MoveOrigin {
  return typeof way === "object" && way !== null && "move" in way;
}

/** Steps until so many schedules have been built: where the first search stopped, its clock having told it or not. */
async function stepTo(search: PlanSearch, iterations: number): Promise<void> {
  let turnEnds = performance.now() + TURN_MS;
  while (search.iteration < iterations && search.step()) {
    if (performance.now() < turnEnds) continue;
    await setImmediate();
    turnEnds = performance.now() + TURN_MS;
  }
}

/** Proof of the cast: only plans of this program are kept, as their own JSON. */
function toPlan({ body }: KeptPlan): Plan {
  const plan: unknown = JSON.parse(body);
  invariant(typeof plan === "object" && plan !== null, "a kept plan is a JSON object");
  return plan as Plan;
}
