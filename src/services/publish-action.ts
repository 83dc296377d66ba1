/** The plan that stands becomes the promise that crews see, in one transaction. */
import type { Actor } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt } from "../domain/time.js";
import { insertCalls } from "../store/call-store.js";
import type { Queries } from "../store/database.js";
import { insertPlan } from "../store/plan-store.js";
import { findWhyFault } from "./changes/apply-change.js";
import { refuseFields } from "./changes/change-refusals.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { EMPTY, type DeskDoor } from "./desk-door.js";
import { toStillKept } from "./desk-plans.js";
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
  if (plan.id !== planId) return fail(await findWhyStale(door.database, planId, stored.version));
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

const OF_YESTERDAY: ChangeFailure = {
  kind: "refused",
  refusal: {
    kind: "another-plan",
    sentence: "This is the plan of the day before, and today's is being made. Look at it in a moment.",
  },
};
