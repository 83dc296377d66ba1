/** One request as a reader sends it, timed until the last byte of the answer. */
import { request, type Agent } from "node:http";
import type { Visitor } from "../../web/visitor.js";

export interface TimedAnswer {
  readonly status: number;
  readonly ms: number;
}

export function timeRequest(url: string, cookie: string, agent: Agent): Promise<TimedAnswer> {
  const begun = performance.now();
  return new Promise((resolve, reject) => {
    const asked = request(url, { agent, headers: { cookie, "accept-encoding": "gzip" } }, (answer) => {
      answer.resume();
      answer.once("end", () => resolve({ status: answer.statusCode ?? 0, ms: performance.now() - begun }));
    });
    asked.once("error", reject);
    asked.end();
  });
}

/** What a visitor's browser sends as its cookies. */
export function cookieOf(visitor: Visitor): string {
  return visitor.cookies.map(({ name, value }) => `${name}=${value}`).join("; ");
}

/** The number below which that share of the numbers lies; not a number where there are none. */
export function quantile(numbers: readonly number[], share: number): number {
  const sorted = numbers.toSorted((left, right) => left - right);
  return sorted[Math.floor((sorted.length - 1) * share)] ?? Number.NaN;
}
