/** Ways out compared at the desk, and one of them taken, in one transaction with the slip that it leads out of. */
import type { Actor } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import { insertCalls } from "../store/call-store.js";
import type { Queries } from "../store/database.js";
import { insertPlan } from "../store/plan-store.js";
import { listAfter } from "../store/record-store.js";
import { refuse } from "./changes/change-refusals.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { EMPTY, type DeskDoor, type Standing } from "./desk-door.js";
import type { TakeWay, WaysAsk, WaysShown } from "./ways.js";
import { ANOTHER, compareWays, prepareWay, type WaysStanding } from "./ways-desk.js";

export async function compare(door: DeskDoor, ask: WaysAsk): Promise<Result<WaysShown, ChangeFailure>> {
  // The search for a better plan has the thread; and ways start from a plan that stays.
  await door.plans.rest();
  const standing = door.standing();
  if (standing === undefined) return fail(EMPTY);
  return compareWays(toWaysStanding(standing), ask, door.clock(), door);
}

export async function take(door: DeskDoor, order: TakeWay, by: Actor): Promise<Result<void, ChangeFailure>> {
  await door.plans.rest();
  const standing = door.standing();
  if (standing === undefined) return fail(EMPTY);
  const { version, planId } = order.basis;
  const { stored } = standing;
  if (stored.version !== version) return fail(await findWhyStale(door.database, version));
  const shown = await findShown(door, standing, planId);
  if (shown === undefined) return refuse("compare-again", ANOTHER);
  const prepared = await prepareWay(shown, order, door.clock(), { ...door, check: door.checkPlan });
  if (!prepared.ok) return prepared;
  const { source, kind, sentence, calls, plan } = prepared.value;
  return door.write(async (now, queries) => {
    if (now.version !== version) return fail(await findWhyStale(queries, version));
    const also = async (within: Queries, written: number): Promise<void> => {
      await insertCalls(within, written, calls);
      await insertPlan(within, { ...plan, companyVersion: written });
    };
    return ok({ source, entry: door.entry(kind, sentence, by, order.why), also });
  });
}

function toWaysStanding({ stored, source, company, plan }: Standing): WaysStanding {
  return { version: stored.version, source, company, planId: plan.id, plan: plan.plan };
}

/** What stands with the plan from which the ways were shown: a better one may have come since. */
async function findShown(
  door: DeskDoor,
  standing: Standing,
  planId: number,
): Promise<WaysStanding | undefined> {
  const now = toWaysStanding(standing);
  if (now.planId === planId) return now;
  const plan = await door.plans.findOf(now.version, planId);
  return plan && { ...now, planId, plan };
}

/** Changes that are told; of more, only the first ones. */
const MOST_SINCE = 10;

async function findWhyStale(queries: Queries, version: number): Promise<ChangeFailure> {
  const since = await listAfter(queries, version, MOST_SINCE);
  return since.length > 0 ? { kind: "stale", since } : refuse("compare-again", ANOTHER).error;
}
