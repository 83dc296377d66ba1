/**
 * How long people wait for the board of a big company when many ask at once: a closed loop, each asking again as soon as
 * she is answered, on the served app as a process of its own.
 */
import { Agent } from "node:http";
import { setTimeout as sleep } from "node:timers/promises";
import type { Visitor } from "../../web/visitor.js";
import { cookieOf, quantile, timeRequest } from "./timed-request.js";

export interface BoardLoad {
  readonly answers: number;
  /** The 95th of 100 answers, in milliseconds. */
  readonly p95Ms: number;
  readonly medianMs: number;
  /** Answers that were no page. */
  readonly failures: number;
}

export async function loadBoard(
  app: { readonly url: string },
  visitor: Visitor,
  askers: number,
  milliseconds: number,
): Promise<BoardLoad> {
  const agent = new Agent({ keepAlive: true, maxSockets: askers });
  const cookie = cookieOf(visitor);
  const waits: number[] = [];
  let failures = 0;
  const now = { isCounting: false, isOver: false };
  const ask = async (): Promise<void> => {
    while (!now.isOver) {
      const { status, ms } = await timeRequest(`${app.url}/`, cookie, agent);
      if (!now.isCounting) continue;
      waits.push(ms);
      if (status !== 200) failures += 1;
    }
  };
  const asking = Array.from({ length: askers }, ask);
  await sleep(milliseconds / 5);
  now.isCounting = true;
  await sleep(milliseconds);
  now.isOver = true;
  await Promise.all(asking);
  agent.destroy();
  return { answers: waits.length, p95Ms: quantile(waits, 0.95), medianMs: quantile(waits, 0.5), failures };
}
