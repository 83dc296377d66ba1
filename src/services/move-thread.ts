/**
 * The thread that plans moves by hand: one answer to each request, in their order. Started by move-planner.ts; it ends
 * when it is terminated.
 */
import { createHash } from "node:crypto";
import { parentPort } from "node:worker_threads";
import { present } from "../domain/result.js";
import { moveTask, type MovedPlan } from "../planner/moving/move-task.js";
import type { MoveAnswer, MoveFound, MoveRequest } from "./move-planner.js";

const port = present(parentPort, "the process that this thread plans for");

// Only move-planner.ts posts to this thread, and nothing but requests.
port.on("message", (request: MoveRequest) => {
  port.postMessage(answer(request));
});

function answer({ id, order, withPlan }: MoveRequest): MoveAnswer {
  try {
    const { company, wish, ...options } = order;
    const moved = moveTask(company, options, wish);
    return { id, result: moved.ok ? { ok: true, value: toFound(moved.value, withPlan) } : moved };
  } catch (error) {
    return { id, error };
  }
}

function toFound({ work, explain, ...facts }: MovedPlan, withPlan: boolean): MoveFound {
  const what = JSON.stringify([...work.values(), facts.costAfter]);
  const digest = createHash("sha256").update(what).digest("base64url").slice(0, 22);
  return { ...facts, digest, plan: withPlan ? explain() : null };
}
