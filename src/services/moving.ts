/**
 * What a desk says and checks when somebody moves work by hand: the change that it is, and why it is not made.
 */
import { sayMoveRefusal } from "../board/move-words.js";
import { parseCompany } from "../domain/company-file.js";
import type { Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { invariant } from "../domain/result.js";
import { civilDateAt, type Minute } from "../domain/time.js";
import type { MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import { readWork, taskKey } from "../planner/ways-out/planned-work.js";
import type { Queries } from "../store/database.js";
import type { ChangeFailure } from "./changes/company-change.js";
import type { TaskMoved } from "./changes/moves.js";
import type { CheckPlan } from "./plan-checker.js";
import { findWhyStale } from "./publishing.js";

/** A plan that was made as of an earlier minute is a good one for a while, as every plan that stands. */
const GOOD_FOR_MINUTES = 60;
const MOST_TOLD = 3;

/** Whether a move that was shown as of a minute may still be made. */
export function isRecent(asOf: Minute, now: Minute, zone: string): boolean {
  return asOf <= now && now - asOf <= GOOD_FOR_MINUTES && civilDateAt(asOf, zone) === civilDateAt(now, zone);
}

/** The change that keeps a wish. */
export function toMoveChange(wish: MoveWish, standing: Plan, company: Company, why: string): TaskMoved {
  const { job, task, crew, date } = wish;
  const [from] = readWork(company, standing.blocks).get(taskKey(job, task))?.days ?? [];
  return { kind: "task-moved", job, task, crew, date, from: from ?? null, why };
}

/** Which rule forbids the move, as the answer to a form. */
export function toMoveFailure(company: Company, wish: MoveWish, refusal: MoveRefusal): ChangeFailure {
  return refused(refusal.kind, sayMoveRefusal(company, wish, refusal));
}

/** Why the plan that a person moved something in is no longer the one that stands. */
export async function findWhyMoveStale(
  queries: Queries,
  planId: number,
  version: number,
): Promise<ChangeFailure> {
  const failure = await findWhyStale(queries, planId, version);
  return failure.kind === "stale" ? failure : ANOTHER_PLAN;
}

/** The rules that a plan breaks, for the company that it is to stand for; undefined for a good one. */
export async function findBroken(
  source: Source,
  plan: Plan,
  check: CheckPlan,
): Promise<ChangeFailure | undefined> {
  const parsed = parseCompany(source);
  invariant(parsed.ok, "a change that was applied leaves no fault");
  const broken = await check(parsed.value, plan);
  if (broken.length === 0) return undefined;
  return refused(
    "plan-broken",
    `With this move the plan would break rules: ${broken.slice(0, MOST_TOLD).join(" ")}`,
  );
}

const ANOTHER_PLAN = refused(
  "another-plan",
  "A better plan has taken the place of the one that you looked at, so nothing was moved. Look at it, and move it again if that is still right.",
);

export const SHOWN_TOO_LONG_AGO = refused(
  "shown-too-long-ago",
  "This was shown too long ago, so nothing was moved. Look at what it means now.",
);

export const ANOTHER_MOVE = refused(
  "another-plan",
  "The move means something else by now than what was shown, so nothing was moved. Look at it again.",
);

function refused(kind: string, sentence: string): ChangeFailure {
  return { kind: "refused", refusal: { kind, sentence } };
}
