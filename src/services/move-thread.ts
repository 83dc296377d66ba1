/** The thread that plans moves by hand. Started by move-planner.ts. */
import { createHash } from "node:crypto";
import { moveTask, type MovedPlan } from "../planner/moving/move-task.js";
import { answerQuestions } from "./asked-thread.js";
import type { MoveAnswer, MoveFound, MoveQuestion } from "./move-planner.js";

answerQuestions(({ order, withPlan }: MoveQuestion): MoveAnswer => {
  const { company, wish, ...options } = order;
  const moved = moveTask(company, options, wish);
  return moved.ok ? { ok: true, value: toFound(moved.value, withPlan) } : moved;
});

function toFound({ work, explain, ...facts }: MovedPlan, withPlan: boolean): MoveFound {
  const what = JSON.stringify([...work.values(), facts.costAfter]);
  const digest = createHash("sha256").update(what).digest("base64url").slice(0, 22);
  return { ...facts, digest, plan: withPlan ? explain() : null };
}
