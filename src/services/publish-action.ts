/** The plan that stands becomes the promise that crews see, in one transaction. */
import { isSameJson } from "../domain/json-equality.js";
import type { Actor } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt } from "../domain/time.js";
import { insertCalls } from "../store/call-store.js";
import type { Queries } from "../store/database.js";
import { findPlan, insertPlan } from "../store/plan-store.js";
import { findWhyFault } from "./changes/apply-change.js";
import { refuseFields } from "./changes/change-refusals.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { EMPTY, type DeskDoor } from "./desk-door.js";
import { toPlan, toStillKept, type StandingPlan } from "./desk-plans.js";
import type { PublishInput } from "./desk.js";
import { findWhyStale, preparePublish } from "./publishing.js";

export async function publish(
  door: DeskDoor,
  { planId, why = "" }: PublishInput,
  by: Actor,
): Promise<Result<void, ChangeFailure>> {
  const standing = door.standing();
  if (standing === undefined) return fail(EMPTY);
  const sentence = findWhyFault(why);
  if (sentence !== undefined) return refuseFields([{ path: "reason", sentence }]);
  const { plan, stored } = standing;
  if (!(await isSamePromise(door.database, planId, plan)))
    return fail(await findWhyStale(door.database, planId, stored.version));
  if (plan.date !== civilDateAt(door.clock(), standing.company.company.timeZone)) return fail(OF_YESTERDAY);
  const prepared = await preparePublish({ ...standing, plan: plan.plan }, door.checkPlan);
  if (!prepared.ok) return prepared;
  const { source, calls } = prepared.value;
  const still = toStillKept(standing.company, plan);
  return door.write(async (now, queries) => {
    if (now.version !== stored.version) return fail(await findWhyStale(queries, planId, now.version));
    const also = async (within: Queries, version: number): Promise<void> => {
      await insertCalls(within, version, calls);
      await insertPlan(within, { ...still, companyVersion: version });
    };
    return ok({ source, entry: door.entry("plan-published", prepared.value.sentence, by, why), also });
  });
}

/**
 * Whether crews would be promised the very work that the person has seen. A photo or a report that moves nothing makes
 * another plan of the same blocks, which is no reason to look again.
 */
async function isSamePromise(queries: Queries, seenId: number, standing: StandingPlan): Promise<boolean> {
  if (standing.id === seenId) return true;
  const seen = await findPlan(queries, seenId);
  return seen !== undefined && isSameJson(toPlan(seen).blocks, standing.plan.blocks);
}

const OF_YESTERDAY: ChangeFailure = {
  kind: "refused",
  refusal: {
    kind: "another-plan",
    sentence: "This is the plan of the day before, and today's is being made. Look at it in a moment.",
  },
};
