/** A move by hand, made: the plan that was shown then stands, in one transaction with the move and its row on record. */
import type { Actor } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import type { MoveWish } from "../planner/moving/move-refusal.js";
import type { Queries } from "../store/database.js";
import { insertPlan } from "../store/plan-store.js";
import { applyChange } from "./changes/apply-change.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { EMPTY, type DeskDoor } from "./desk-door.js";
import type { MoveToken } from "./desk.js";
import type { MovePlanner } from "./move-planner.js";
import {
  ANOTHER_MOVE,
  findBroken,
  findWhyMoveStale,
  isRecent,
  SHOWN_TOO_LONG_AGO,
  toMoveChange,
  toMoveFailure,
} from "./moving.js";

export async function makeMove(
  door: DeskDoor,
  moves: MovePlanner,
  wish: MoveWish,
  { planId, asOf, digest }: MoveToken,
  by: Actor,
  why: string,
): Promise<Result<void, ChangeFailure>> {
  const standing = door.standing();
  if (standing === undefined) return fail(EMPTY);
  const { stored, company, source, plan } = standing;
  if (plan.id !== planId) return fail(await findWhyMoveStale(door.database, planId, stored.version));
  if (!isRecent(asOf, door.clock(), company.company.timeZone)) return fail(SHOWN_TOO_LONG_AGO);
  const { seed } = door;
  const moved = await moves.plan({ company, standing: plan.plan, asOf, seed, wish }, true);
  if (!moved.ok) return fail(toMoveFailure(company, wish, moved.error));
  const { plan: after, digest: now } = moved.value;
  if (after === null || now !== digest) return fail(ANOTHER_MOVE);
  const change = toMoveChange(wish, plan.plan, company, why);
  const applied = applyChange({ source, company, nowMinute: door.clock() }, change);
  if (!applied.ok) return applied;
  const broken = await findBroken(applied.value.source, after, door.checkPlan);
  if (broken !== undefined) return fail(broken);
  const kept = door.plans.toKeep(after, asOf, plan, wish);
  return door.write(async (latest, queries) => {
    if (latest.version !== stored.version) {
      return fail(await findWhyMoveStale(queries, planId, latest.version));
    }
    const also = async (within: Queries, version: number): Promise<void> => {
      await insertPlan(within, { ...kept, companyVersion: version });
    };
    const entry = door.entry(change.kind, applied.value.sentence, by, why);
    return ok({ source: applied.value.source, entry, also });
  });
}
