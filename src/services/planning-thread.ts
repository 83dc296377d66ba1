/**
 * The thread that plans: takes one request after another and answers with messages. Started by planning-lane.ts; it
 * ends when it is terminated. A bug of the planner is sent home as a failure, and the thread goes on.
 */
import { performance } from "node:perf_hooks";
import { parentPort } from "node:worker_threads";
import type { Plan } from "../domain/plan-format.js";
import { present } from "../domain/result.js";
import { findWays } from "./found-ways.js";
import type { PlanningMessage, PlanningRequest, ThreadRequest } from "./planning-messages.js";
import { runPlanning } from "./run-planning.js";

const port = present(parentPort, "the process that this thread plans for");

// Only planning-lane.ts posts to this thread, and nothing but requests.
port.on("message", (request: ThreadRequest) => {
  try {
    if (request.kind === "ways") send({ kind: "ways", text: JSON.stringify(findWays(request)) });
    else send({ kind: "done", planText: plan(request) });
  } catch (error) {
    send({ kind: "failed", error });
  }
});

function plan(request: PlanningRequest): string | null {
  const flag = new Int32Array(request.flag);
  const found = runPlanning(request, {
    now: () => performance.now(),
    flag: () => Atomics.load(flag, 0),
    onProgress: (progress) => send({ kind: "progress", progress }),
    ...(request.canStop && {
      onDraft: (draft: Plan) => send({ kind: "draft", planText: JSON.stringify(draft) }),
    }),
  });
  return found === undefined ? null : JSON.stringify(found);
}

function send(message: PlanningMessage): void {
  port.postMessage(message);
}
