/**
 * How long crews wait for their day sheets: each sheet asked for once, one after another, so that it is rendered for that
 * request; and all phones at once, as at six in the morning, again and again.
 */
import { Agent } from "node:http";
import { setTimeout as sleep } from "node:timers/promises";
import { Visitor } from "../../web/visitor.js";
import { cookieOf, quantile, timeRequest, type TimedAnswer } from "./timed-request.js";

export interface SheetLoad {
  /** Of sheets that nobody has asked for before, request and answer included. */
  readonly renderMedianMs: number;
  readonly rendered: number;
  /** Of all phones at once. */
  readonly p95Ms: number;
  readonly medianMs: number;
  readonly failures: number;
}

const ROUNDS = 20;
const PAUSE_MS = 1_000;

/** `phones` in all, spread over the crews; `owner` makes the links that they open. `dates`: sheets rendered one by one. */
export async function loadSheets(
  app: { readonly url: string },
  owner: Visitor,
  crews: readonly string[],
  dates: readonly string[],
  phones: number,
): Promise<SheetLoad> {
  const readers = await Promise.all(
    crews.map(async (crew) => ({ crew, cookie: await openLink(app, owner, crew) })),
  );
  const agent = new Agent({ keepAlive: true, maxSockets: phones });
  const ask = (path: string, cookie: string): Promise<TimedAnswer> =>
    timeRequest(app.url + path, cookie, agent);
  const rendered: TimedAnswer[] = [];
  for (const date of dates) {
    for (const { crew, cookie } of readers) rendered.push(await ask(`/crew/${crew}/${date}`, cookie));
  }
  const together: TimedAnswer[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    await sleep(PAUSE_MS);
    const asked = Array.from({ length: phones }, (_, phone) => {
      const reader = readers[phone % readers.length];
      return reader === undefined ? [] : [ask(`/crew/${reader.crew}`, reader.cookie)];
    });
    together.push(...(await Promise.all(asked.flat())));
  }
  agent.destroy();
  const times = together.map(({ ms }) => ms);
  return {
    renderMedianMs: quantile(
      rendered.map(({ ms }) => ms),
      0.5,
    ),
    rendered: rendered.length,
    p95Ms: quantile(times, 0.95),
    medianMs: quantile(times, 0.5),
    failures: [...rendered, ...together].filter(({ status }) => status !== 200).length,
  };
}

/** The cookie of a phone that has opened the crew's link. */
async function openLink(app: { readonly url: string }, owner: Visitor, crew: string): Promise<string> {
  const made = await (await owner.post(`/crew-links/${crew}/make`)).text();
  const path = /\/link\/[\w-]+/.exec(made)?.[0];
  if (path === undefined) throw new Error(`no link was made for crew ${crew}`);
  const phone = new Visitor(app);
  await phone.get(path);
  return cookieOf(phone);
}
