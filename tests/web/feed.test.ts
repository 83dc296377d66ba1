/** A crew's calendar feed, read by an iCalendar reader that has nothing to do with what writes it. */
import ICAL from "ical.js";
import { afterEach, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import type { CompanyChange } from "../../src/services/changes/company-change.js";
import { openPeople, type People } from "../../src/services/people.js";
import { PUBLISHED_COMPANY } from "../support/published-company.js";
import { good } from "../support/people.js";
import { startServer, type TestServer } from "../support/server.js";

const BY = { personId: null, personName: "Robin" };
const ALDER = { id: "alder", name: "Alder" };

let app: TestServer | undefined;
afterEach(async () => {
  await app?.stop();
  app = undefined;
});

async function open(source: unknown = PUBLISHED_COMPANY): Promise<{ app: TestServer; people: People }> {
  app = await startServer(source, "2026-12-03T12:00");
  return { app, people: openPeople(app.database) };
}

const feedOf = (
  { url }: TestServer,
  token: string,
  headers: Record<string, string> = {},
): Promise<Response> => fetch(`${url}/feed/${token}.ics`, { headers });

async function eventsOf(served: TestServer, token: string) {
  const text = await (await feedOf(served, token)).text();
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      start: event.startDate.toJSDate().toISOString(),
      isUtc: event.startDate.zone === ICAL.Timezone.utcTimezone,
      end: event.endDate.toJSDate().toISOString(),
      summary: event.summary,
      description: event.description,
      sequence: event.sequence,
      status: String(component.getFirstPropertyValue("status")),
      stamp: component.getFirstPropertyValue("dtstamp")?.toString() ?? "",
    };
  });
}

async function publish({ desk }: TestServer): Promise<void> {
  good(await desk.publish({ planId: desk.current().planId }, BY));
}

const DAY_OFF: CompanyChange = {
  kind: "day-off-added",
  crew: "alder",
  input: { from: "2026-12-04", to: "2026-12-04", why: "wedding" },
};

describe("a calendar feed", () => {
  it("has no event as long as nothing is published", async () => {
    const { app, people } = await open();
    const token = good(await people.makePrivateLink("feed", ALDER, BY));
    const response = await feedOf(app, token);
    expect(response.status).toBe(200);
    expect(response.headers.get("content-type")).toBe("text/calendar; charset=utf-8");
    expect(await eventsOf(app, token)).toEqual([]);
  });

  it("has an event for each stay at a house on a published day, of that crew alone, in UTC", async () => {
    const { app, people } = await open();
    await publish(app);
    const events = await eventsOf(app, good(await people.makePrivateLink("feed", ALDER, BY)));
    const published = present(app.desk.current().company.published, "what is published");
    const dates = new Set(
      published.filter(({ crew }) => crew === "alder").map(({ start }) => start.slice(0, 10)),
    );
    expect(new Set(events.map(({ uid }) => uid.slice(0, 10)))).toEqual(dates);
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    for (const event of events) {
      // Up to Friday it is held; after that what is published may still move.
      const isHeld = event.uid.slice(0, 10) <= "2026-12-04";
      expect(event).toMatchObject({ isUtc: true, sequence: 0, status: isHeld ? "CONFIRMED" : "TENTATIVE" });
      expect(event.uid).toContain(".alder.");
      expect(event.summary).not.toContain("stone");
      expect(event.start < event.end).toBe(true);
    }
    const first = present(
      published.find(({ crew, kind }) => crew === "alder" && kind === "setup") ??
        published.find(({ crew, kind }) => crew === "alder" && kind === "work"),
      "Alder's first block at a house",
    );
    expect(events[0]?.start).toBe(new Date(first.start).toISOString());
  });

  it("counts SEQUENCE up where a stay has changed, cancels what has moved away, and keeps what is the same", async () => {
    const { app, people } = await open();
    await publish(app);
    const token = good(await people.makePrivateLink("feed", ALDER, BY));
    const before = await eventsOf(app, token);
    const friday = before.filter(({ uid }) => uid.startsWith("2026-12-04"));
    expect(friday.length).toBeGreaterThan(0);
    good(await app.desk.make({ kind: "sheet-released", crew: "alder", date: "2026-12-04" }, BY));
    const released = await eventsOf(app, token);
    expect(released.filter(({ uid }) => uid.startsWith("2026-12-04"))).toEqual(
      friday.map((event) => ({
        ...event,
        sequence: 1,
        status: "TENTATIVE",
        description: expect.stringContaining("released") as unknown,
        stamp: expect.any(String) as unknown,
      })),
    );
    good(await app.desk.make(DAY_OFF, BY));
    await publish(app);
    const after = await eventsOf(app, token);
    const cancelled = after.filter(({ status }) => status === "CANCELLED");
    expect(cancelled.map(({ uid }) => uid)).toEqual(
      expect.arrayContaining(friday.map(({ uid }) => uid)) as unknown,
    );
    for (const event of after) {
      const old = before.find(({ uid }) => uid === event.uid);
      if (old === undefined) expect(event.sequence).toBe(0);
      else if (event.status === "CANCELLED") expect(event.sequence).toBeGreaterThan(old.sequence);
      else if (event.start === old.start && event.end === old.end && event.summary === old.summary)
        expect(event.sequence).toBe(old.sequence);
      else expect(event.sequence).toBeGreaterThan(old.sequence);
    }
    expect(await eventsOf(app, token)).toEqual(after);
  });

  it("speaks the crew's language", async () => {
    const [alder, ...others] = PUBLISHED_COMPANY.crews;
    const { app, people } = await open({
      ...PUBLISHED_COMPANY,
      crews: [{ ...alder, language: "es" }, ...others],
    });
    await publish(app);
    const [event] = await eventsOf(app, good(await people.makePrivateLink("feed", ALDER, BY)));
    expect(event?.description).toContain("Publicado: este día es firme.");
  });

  it("answers nothing more than that it is unchanged to a calendar that has it", async () => {
    const { app, people } = await open();
    const token = good(await people.makePrivateLink("feed", ALDER, BY));
    const tag = present((await feedOf(app, token)).headers.get("etag"), "a tag");
    expect((await feedOf(app, token, { "if-none-match": tag })).status).toBe(304);
    await publish(app);
    expect((await feedOf(app, token, { "if-none-match": tag })).status).toBe(200);
  });

  it("shows nothing at an address that is wrong, renewed, taken back, of a crew that is gone, or of another kind", async () => {
    const { app, people } = await open();
    await publish(app);
    const old = good(await people.makePrivateLink("feed", ALDER, BY));
    const renewed = good(await people.renewPrivateLink("feed", ALDER, BY));
    expect((await feedOf(app, renewed)).status).toBe(200);
    good(await people.revokePrivateLink("feed", ALDER, BY));
    const gone = good(await people.makePrivateLink("feed", { id: "nobody", name: "Nobody" }, BY));
    const crewLink = good(await people.makePrivateLink("crew", ALDER, BY));
    const house = good(
      await people.makePrivateLink("house", { id: "harbor-12", name: "12 Harbor Road" }, BY),
    );
    for (const token of [old, renewed, gone, crewLink, house, "a".repeat(43), "x", "%00"]) {
      const response = await feedOf(app, token);
      expect([response.status, await response.text()]).toEqual([404, ""]);
    }
    expect((await fetch(`${app.url}/feed/${renewed}`)).status).toBe(404);
  });

  it("is made, renewed and taken back on the page of crew links, and is on record", async () => {
    const { app, people } = await open();
    const post = (path: string): Promise<Response> =>
      fetch(app.url + path, { method: "POST", headers: { origin: app.url }, redirect: "manual" });
    const made = await (await post("/crew-links/alder/calendar/make")).text();
    const address = present(/http[^"<]*\/feed\/[\w-]{43}\.ics/.exec(made)?.[0], "the address that is shown");
    expect((await fetch(address)).status).toBe(200);
    expect((await post("/crew-links/alder/calendar/make")).status).toBe(409);
    await post("/crew-links/alder/calendar/renew");
    expect((await fetch(address)).status).toBe(404);
    expect(await (await fetch(`${app.url}/crew-links`)).text()).toContain("Take the calendar address back");
    expect((await post("/crew-links/alder/calendar/revoke")).status).toBe(303);
    expect((await people.listChanges({ most: 9 })).map(({ kind, subject }) => [kind, subject])).toEqual([
      ["feed-link-revoked", { crewId: "alder" }],
      ["feed-link-renewed", { crewId: "alder" }],
      ["feed-link-made", { crewId: "alder" }],
    ]);
    const rows = JSON.stringify(await app.database.query("select * from private_link"));
    expect(rows).not.toContain(address.slice(-47, -4));
  });
});
