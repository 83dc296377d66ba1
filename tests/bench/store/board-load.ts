/**
 * How long people wait for the board of a big company when many ask at once: a closed loop, each asking again as soon as
 * she is answered, on the served app as a process of its own.
 */
import { Agent, request } from "node:http";
import { setTimeout as sleep } from "node:timers/promises";
import type { Visitor } from "../../web/visitor.js";

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
  const cookie = visitor.cookies.map(({ name, value }) => `${name}=${value}`).join("; ");
  const waits: number[] = [];
  let failures = 0;
  const now = { isCounting: false, isOver: false };
  const ask = async (): Promise<void> => {
    while (!now.isOver) {
      const begun = performance.now();
      const status = await fetchOnce(`${app.url}/`, cookie, agent);
      if (!now.isCounting) continue;
      waits.push(performance.now() - begun);
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
  waits.sort((left, right) => left - right);
  const at = (share: number): number => waits[Math.floor((waits.length - 1) * share)] ?? Number.NaN;
  return { answers: waits.length, p95Ms: at(0.95), medianMs: at(0.5), failures };
}

function fetchOnce(url: string, cookie: string, agent: Agent): Promise<number> {
  return new Promise((resolve, reject) => {
    const asked = request(url, { agent, headers: { cookie } }, (answer) => {
      answer.resume();
      answer.once("end", () => resolve(answer.statusCode ?? 0));
    });
    asked.once("error", reject);
    asked.end();
  });
}
