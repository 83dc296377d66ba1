/** The streams by which open pages hear of changes: who hears what, and when a stream ends. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { present } from "../../src/domain/result.js";
import { makeFixedClock } from "../../src/services/clock.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { NO_SITE_REPORTS, openSiteReports } from "../../src/services/site-reports.js";
import { LiveStreams } from "../../src/web/live-streams.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";
import { CHEAP, COMMAND_LINE, good, makeMember } from "../support/people.js";
import { aReport, DONE } from "../support/site-reports.js";
import { AFTERNOON, EDITED_COMPANY } from "./editing.js";
import { startAppWith, type RunningApp } from "./running-app.js";
import { Visitor } from "./visitor.js";

const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
const apps: RunningApp[] = [];
const streams: Stream[] = [];
afterEach(async () => {
  vi.useRealTimers();
  for (const stream of streams.splice(0)) await stream.leave();
  for (const app of apps.splice(0)) await app.close();
});

/** One open stream, read as it comes. */
class Stream {
  readonly #reader: ReadableStreamDefaultReader<Uint8Array>;
  #text = "";

  private constructor(response: Response) {
    this.#reader = present(response.body, "a stream").getReader();
  }

  static open(response: Response): Stream {
    const stream = new Stream(response);
    streams.push(stream);
    return stream;
  }

  /** All that has come by the time that the pattern is in it; rejects where the stream ends before. */
  async until(pattern: RegExp): Promise<string> {
    while (!pattern.test(this.#text)) {
      const { done, value } = await this.#reader.read();
      if (done) throw new Error(`the stream ended with: ${this.#text}`);
      this.#text += new TextDecoder().decode(value);
    }
    const text = this.#text;
    this.#text = "";
    return text;
  }

  /** Resolves when the server has ended it. */
  async ended(): Promise<void> {
    for (;;) if ((await this.#reader.read()).done) return;
  }

  async leave(): Promise<void> {
    await this.#reader.cancel().catch(() => undefined);
  }
}

async function start(desk: OpenDesk, options: { stopped?: AbortSignal } = {}) {
  const database = await desks.database();
  const people = openPeople(database, { passwordCost: CHEAP });
  const reports = openSiteReports(database);
  const app = await startAppWith({ desk, people, record: openRecord(database), reports }, options);
  apps.push(app);
  return { app, people, reports };
}

function signedIn(app: RunningApp, token: string): Visitor {
  const visitor = new Visitor(app);
  visitor.hold({ name: "daylap-session", value: token, path: "/", attributes: [] });
  return visitor;
}

async function phoneOf(app: RunningApp, people: ReturnType<typeof openPeople>): Promise<Visitor> {
  const phone = new Visitor(app);
  await phone.get(
    `/link/${good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE))}`,
  );
  return phone;
}

const HOLD = {
  kind: "hold-added",
  input: { from: "2026-12-09", to: "2026-12-10", trades: "outdoor", jobs: "all", why: "sleet" },
} as const;
const NOW = /event: now\ndata: (.+)\n\n/;
const dataIn = (text: string): unknown => JSON.parse(NOW.exec(text)?.[1] ?? "null");

describe("a stream", () => {
  it("begins with what stands, in the stamps of the pages that show it", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    const { app, people } = await start(desk);
    const visitor = signedIn(app, (await makeMember(people, "viewer")).token);
    const response = await visitor.get("/live");
    expect(response.headers.get("content-type")).toBe("text/event-stream; charset=utf-8");
    expect(response.headers.get("cache-control")).toBe("no-store");
    const text = await Stream.open(response).until(NOW);
    expect(text).toMatch(/^retry: \d+\n\n/);
    const { company, plan } = dataIn(text) as { company: string; plan: string };
    for (const page of ["/", "/waiting", "/jobs", "/crew/alder"]) {
      const html = await visitor.textOf(page);
      expect(html).toContain(`data-live="/live" data-company="${company}" data-plan="${plan}"`);
    }
  });

  it("tells people of a change and who made it, whichever desk of the company it was made at", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    const other = await desks.open();
    const { app, people } = await start(desk);
    const visitor = signedIn(app, (await makeMember(people, "viewer")).token);
    const stream = Stream.open(await visitor.get("/live"));
    const first = dataIn(await stream.until(NOW));
    good(await desk.make(HOLD, ROBIN));
    const second = dataIn(await stream.until(NOW));
    expect(second).toMatchObject({ by: "Robin" });
    good(await other.make({ ...HOLD, input: { ...HOLD.input, why: "ice" } }, CASEY));
    const third = dataIn(await stream.until(NOW));
    expect(third).toMatchObject({ by: "Casey" });
    const stamps = [first, second, third].map((data) => (data as { company: string }).company);
    expect(new Set(stamps).size).toBe(3);
  });

  it("tells a crew's phone that something has changed, and nothing else", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    const { app, people } = await start(desk);
    const phone = await phoneOf(app, people);
    expect(await phone.textOf("/crew/alder")).toContain('data-live="/crew/alder/live"');
    const stream = Stream.open(await phone.get("/crew/alder/live"));
    const first = await stream.until(NOW);
    good(await desk.make(HOLD, ROBIN));
    const second = await stream.until(NOW);
    for (const text of [first, second]) {
      expect(Object.keys(dataIn(text) as object).toSorted()).toEqual(["company", "plan"]);
      expect(text).not.toContain("Robin");
    }
    expect(dataIn(first)).not.toEqual(dataIn(second));
  });

  it("tells people of a mark on a report, wherever it was made, and the pages that show it by their stamp", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    const { app, people, reports } = await start(desk);
    const visitor = signedIn(app, (await makeMember(people, "dispatcher")).token);
    good(await desk.report(aReport(DONE, { at: { job: "harbor-12", task: "t2" } }), ROBIN));
    const reportsOf = (text: string) => (dataIn(text) as { reports: string }).reports;
    const stream = Stream.open(await visitor.get("/live"));
    const first = await stream.until(NOW);
    expect(await visitor.textOf("/reports")).toContain(`data-reports="${reportsOf(first)}"`);
    await reports.settle(1, CASEY);
    const second = await stream.until(NOW);
    expect(reportsOf(second)).not.toBe(reportsOf(first));
    expect(dataIn(second)).toEqual({ ...(dataIn(first) as object), reports: reportsOf(second) });
    expect(await visitor.textOf("/")).toContain(`data-reports="${reportsOf(second)}"`);
  });

  it("is refused to whoever is not signed in, and to the phone of another crew", async () => {
    const { app, people } = await start(await desks.open(EDITED_COMPANY));
    const nobody = new Visitor(app);
    expect((await nobody.get("/live")).headers.get("location")).toBe("/sign-in?next=%2Flive");
    expect((await nobody.get("/crew/alder/live")).status).toBe(303);
    const phone = await phoneOf(app, people);
    expect((await phone.get("/crew/birch/live")).status).toBe(403);
    expect((await phone.get("/live")).status).toBe(303);
  });

  it("has no beginning where only its head is asked for", async () => {
    const { app, people } = await start(await desks.open(EDITED_COMPANY));
    const { token } = await makeMember(people, "viewer");
    const headers = { cookie: `daylap-session=${token}` };
    const response = await fetch(`${app.url}/live`, { method: "HEAD", headers });
    expect(response.headers.get("content-type")).toMatch("text/event-stream");
    expect(await response.text()).toBe("");
  });

  it("ends at once when the server is being stopped, and none begins after that", async () => {
    const stop = new AbortController();
    const { app, people } = await start(await desks.open(EDITED_COMPANY), { stopped: stop.signal });
    const visitor = signedIn(app, (await makeMember(people, "viewer")).token);
    const stream = Stream.open(await visitor.get("/live"));
    await stream.until(NOW);
    stop.abort();
    await stream.ended();
    expect((await visitor.get("/live")).status).toBe(503);
  });

  it("of one session there are no more than anybody looks at", async () => {
    const { app, people } = await start(await desks.open(EDITED_COMPANY));
    const visitor = signedIn(app, (await makeMember(people, "viewer")).token);
    for (let opened = 0; opened < 30; opened++) Stream.open(await visitor.get("/live"));
    const refused = await visitor.get("/live");
    expect(refused.status).toBe(503);
    expect(await refused.text()).toContain("Too many pages listen");
    await streams.pop()?.leave();
    await vi.waitUntil(async () => (await visitor.get("/live")).status === 200, { timeout: 10_000 });
  });
});

describe("every quarter of a minute", () => {
  /** Only the timer of the streams is moved by the test. */
  const tick = async (): Promise<void> => {
    await vi.advanceTimersByTimeAsync(15_000);
  };

  it("each stream says that it is still there, by one timer for all", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
    const { app, people } = await start(desk);
    const visitor = signedIn(app, (await makeMember(people, "viewer")).token);
    const before = vi.getTimerCount();
    const opened = [Stream.open(await visitor.get("/live")), Stream.open(await visitor.get("/live"))];
    for (const stream of opened) await stream.until(NOW);
    expect(vi.getTimerCount()).toBe(before + 1);
    await tick();
    for (const stream of opened) await stream.until(/^: still here\nevent: alive\ndata:\n\n$/);
    for (const stream of opened) await stream.leave();
    await vi.waitUntil(() => vi.getTimerCount() === before, { timeout: 10_000, interval: 20 });
  });

  it("streams of a session that has ended, and of a crew link that was taken back, are ended", async () => {
    const desk = await desks.open(EDITED_COMPANY);
    vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
    const { app, people } = await start(desk);
    const [leaving, staying] = [await makeMember(people, "viewer"), await makeMember(people, "dispatcher")];
    const phone = await phoneOf(app, people);
    const ending = [
      Stream.open(await signedIn(app, leaving.token).get("/live")),
      Stream.open(await phone.get("/crew/alder/live")),
    ];
    const stays = Stream.open(await signedIn(app, staying.token).get("/live"));
    for (const stream of [...ending, stays]) await stream.until(NOW);
    await people.signOut(leaving.token);
    good(await people.revokePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    await tick();
    for (const stream of ending) await stream.ended();
    await tick();
    await stays.until(/alive/);
  });

  it("listening, and a page that renews itself, make no session last longer", async () => {
    let now = Date.parse("2026-12-07T12:00:00Z");
    const desk = await desks.open(EDITED_COMPANY);
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP, clock: () => now });
    const app = await startAppWith({ desk, people, record: openRecord(database) });
    apps.push(app);
    const { token } = await makeMember(people, "viewer");
    const cookie = `daylap-session=${token}`;
    now += 8 * 3_600_000;
    Stream.open(await app.get("/live", { cookie }));
    expect((await app.get("/", { cookie, "x-page-renewal": "1" })).status).toBe(200);
    now += 8 * 3_600_000;
    expect((await app.get("/", { cookie })).headers.get("location")).toBe("/sign-in");
  });
});

it("a desk that tells of nothing has no timer and no listener", () => {
  const calls: string[] = [];
  const desk = {
    current: () => {
      throw new Error("nobody asks");
    },
    onChange: () => {
      calls.push("listened");
      return () => undefined;
    },
  };
  const idle = new LiveStreams(
    desk,
    { find: () => Promise.resolve(undefined) },
    NO_SITE_REPORTS,
    () => undefined,
  );
  expect(idle.count).toBe(0);
  expect(calls).toEqual([]);
  idle.close();
});
