/** Adding and lifting holds by form, and what protects them. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import type { Desk } from "../../src/services/desk.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startApp, type RunningApp } from "./running-app.js";

const HOLD = {
  from: "2026-12-10T00:00",
  to: "2026-12-11T00:00",
  trades: "outdoor",
  jobs: "all",
  why: "snow",
};

let desk: Desk;
let app: RunningApp;
beforeEach(async () => {
  desk = makeFakeDesk({
    company: decemberCompany(),
    nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
    plan: () => decemberPlan(),
  });
  app = await startApp(desk);
});
afterEach(() => app.close());

const whys = (): readonly string[] => desk.current().company.holds.map((hold) => hold.why);

describe("adding a hold", () => {
  it("adds it and leads back to the holds, so that a reload adds nothing", async () => {
    const response = await app.post("/holds", HOLD);
    expect([response.status, response.headers.get("location")]).toEqual([303, "/holds"]);
    expect(whys()).toEqual(["rain all day", "gusts to 38 mph", "snow"]);
    expect(await (await app.get("/board/2026-12-10")).text()).toContain("snow");
  });

  it("holds only the chosen trades and houses where they are chosen", async () => {
    const form = new URLSearchParams({ ...HOLD, trades: "some", jobs: "some" });
    for (const trade of ["stone", "caulk"]) form.append("trade", trade);
    form.append("job", "gull-3");
    expect((await app.post("/holds", form)).status).toBe(303);
    expect(desk.current().company.holds.at(-1)).toMatchObject({
      trades: ["stone", "caulk"],
      jobs: ["gull-3"],
    });
  });

  it("names everything that the form leaves open at once, and keeps what was typed", async () => {
    const response = await app.post("/holds", {
      from: "",
      to: "",
      trades: "some",
      jobs: "some",
      why: "sn<w",
    });
    const page = await response.text();
    expect(response.status).toBe(422);
    for (const sentence of [
      "Say when the hold begins",
      "Say when the hold ends",
      "Say which work is held",
      "Say which houses are held",
    ]) {
      expect(page).toContain(sentence);
    }
    expect(page).toContain('value="sn&lt;w"');
    expect(page).toContain('value="some" checked');
    expect(whys()).toHaveLength(2);
  });

  it("puts the company file's own sentence beside the field that it is about", async () => {
    const response = await app.post("/holds", { ...HOLD, to: "2026-12-09T00:00" });
    const page = await response.text();
    expect(response.status).toBe(422);
    expect(page).toMatch(/id="fault-to"><span>The hold ends before it begins\./);
    expect(page).toContain('value="2026-12-09T00:00" aria-invalid="true" aria-describedby="fault-to"');
  });

  it("refuses a body that is too long to be a form", async () => {
    const response = await app.post("/holds", { ...HOLD, why: "x".repeat(70_000) });
    expect(response.status).toBe(413);
    expect(whys()).toHaveLength(2);
  });
});

describe("lifting a hold", () => {
  it("takes it away", async () => {
    const response = await app.post("/holds/wet/lift", { version: "1" });
    expect(response.status).toBe(303);
    expect(whys()).toEqual(["gusts to 38 mph"]);
  });

  it("is refused where the form does not say what it was made for", async () => {
    const response = await app.post("/holds/wet/lift", {});
    expect(response.status).toBe(409);
    expect(await response.text()).toContain("This form does not say what it was made for");
    expect(whys()).toHaveLength(2);
  });

  it("says so where the hold is gone already", async () => {
    const response = await app.post("/holds/never/lift", { version: "1" });
    expect(response.status).toBe(409);
    expect(await response.text()).toContain("There is no hold &#34;never&#34; any more.");
  });
});

describe("a form from elsewhere", () => {
  it.each([
    ["from another origin", { origin: "https://elsewhere.example" }],
    ["from a page without an origin", { origin: "null" }],
    ["that says nothing of where it comes from", {}],
    ["that the browser calls cross-site, whatever origin it claims", { "sec-fetch-site": "cross-site" }],
    ["from another port of the same host", { "sec-fetch-site": "same-site" }],
  ])("%s changes nothing", async (_what, headers) => {
    const claimed = "sec-fetch-site" in headers ? { origin: app.url, ...headers } : headers;
    for (const path of ["/holds", "/holds/wet/lift"]) {
      const response = await app.post(path, HOLD, claimed);
      expect(response.status).toBe(403);
      expect(await response.text()).toContain("This form was not sent from a page of this app");
    }
    expect(whys()).toHaveLength(2);
  });

  it("is taken where the browser itself says that it is ours", async () => {
    expect((await app.post("/holds", HOLD, { "sec-fetch-site": "same-origin" })).status).toBe(303);
  });
});
