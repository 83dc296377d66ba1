/** Homeowners' links: what they open, and that they open nothing once they are wrong or void. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { openPeople, type People } from "../../src/services/people.js";
import { PUBLISHED_COMPANY } from "../support/published-company.js";
import { good } from "../support/people.js";
import { startServer, type TestServer } from "../support/server.js";

const BY = { personId: null, personName: "Robin" };
const HARBOR = { id: "harbor-12", name: "12 Harbor Road" };

let app: TestServer;
let people: People;
beforeAll(async () => {
  app = await startServer(PUBLISHED_COMPANY, "2026-12-03T12:00");
  people = openPeople(app.database);
  good(await app.desk.publish({ planId: app.desk.current().planId }, BY));
});
afterAll(() => app.stop());

const post = (path: string): Promise<Response> =>
  fetch(app.url + path, { method: "POST", headers: { origin: app.url }, redirect: "manual" });

describe("a homeowner's link", () => {
  it("is made by the office, and shows that one house in English or Spanish", async () => {
    const made = await (await post("/house-links/harbor-12/make")).text();
    const address = present(/http[^"<]*\/house\/[\w-]{43}/.exec(made)?.[0], "the address that is shown");
    const english = await fetch(address);
    const page = await english.text();
    expect([english.status, english.headers.get("cache-control")]).toEqual([200, "no-store"]);
    expect(page).toContain("Work at 12 Harbor Road");
    expect(page).toContain("(promised)");
    for (const hidden of ["Spruce", "Alder", "Birch", "Mateo", "<nav aria", "/board", "/crew"]) {
      expect(page).not.toContain(hidden);
    }
    const spanish = await (await fetch(`${address}?lang=es`)).text();
    expect(spanish).toContain('<html lang="es">');
    expect(spanish).toContain("(prometido)");
    expect(await (await fetch(`${app.url}/house-links`)).text()).toContain(`ends in …${address.slice(-4)}`);
  });

  it("shows nothing where it is wrong, renewed, taken back, of a house that is gone, or of another kind", async () => {
    const old = await people.renewPrivateLink("house", HARBOR, BY);
    const renewed = good(await people.renewPrivateLink("house", HARBOR, BY));
    expect((await fetch(`${app.url}/house/${renewed}`)).status).toBe(200);
    expect((await post("/house-links/harbor-12/revoke")).status).toBe(303);
    const gone = good(await people.makePrivateLink("house", { id: "nowhere", name: "Nowhere" }, BY));
    const feed = good(await people.makePrivateLink("feed", { id: "alder", name: "Alder" }, BY));
    const crew = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, BY));
    for (const token of [good(old), renewed, gone, feed, crew, "a".repeat(43), "x"]) {
      const response = await fetch(`${app.url}/house/${token}`);
      const page = await response.text();
      expect(response.status).toBe(404);
      expect(page).toContain("This link shows nothing");
      for (const hidden of ["Harbor", "Spruce", "Alder", "Siding"]) expect(page).not.toContain(hidden);
    }
  });

  it("is on record as a change about that house", async () => {
    const last = (await people.listChanges({ most: 99 })).find(({ kind }) => kind === "house-link-revoked");
    expect(last).toMatchObject({
      subject: { houseId: "harbor-12" },
      sentence: "Took back the homeowner's link of 12 Harbor Road.",
    });
  });
});
