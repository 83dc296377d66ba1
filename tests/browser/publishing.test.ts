/**
 * The evening of a dispatcher in a real browser: publish, a crew lead calls in sick, board and phone say what has moved,
 * publish again, make a call, and take it all back.
 */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { openCalls } from "../../src/services/calls.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { CASEY, useDesks } from "../support/desk.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { AFTERNOON } from "../web/editing.js";
import { startAppWith, TEST_OWNER, type RunningApp } from "../web/running-app.js";
import { expectUsable, unfold } from "../support/page-faults.js";

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };
const SMALL_PHONE = { width: 320, height: 640 };

/** As of Thursday 3 December: Alder sides 12 Harbor Road on Friday, Birch, a subcontractor, sets stone there on Monday. */
const COMPANY = aCompany({
  crews: [
    aCrew({ trades: { siding: 1 } }),
    aCrew({ id: "birch", name: "Birch", lead: "Mateo", trades: { stone: 1 }, kind: "sub" }),
  ],
  jobs: [
    aJob({
      id: "harbor-12",
      name: "12 Harbor Road",
      tasks: [
        aTask({ id: "t1", title: "Siding", laborHours: 21 }),
        aTask({
          id: "t2",
          trade: "stone",
          title: "Set stone",
          laborHours: 12,
          after: [{ task: "t1" }],
          notBefore: "2026-12-07",
        }),
      ],
    }),
  ],
});

describe.runIf(browserAvailable())("publishing in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const now = (): Date => new Date(AFTERNOON * 60_000);
  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now });
  const contexts: BrowserContext[] = [];
  const apps: RunningApp[] = [];
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    for (const app of apps.splice(0)) await app.close();
  });

  async function start(automatic: boolean) {
    const desk = await desks.open(COMPANY);
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP });
    const app = await startAppWith(
      { desk, people, record: openRecord(database), calls: openCalls(database, now) },
      { clock: makeFixedClock(AFTERNOON), ...(automatic && { automatic: TEST_OWNER }) },
    );
    apps.push(app);
    return { desk, people, app };
  }

  async function openPage(options: BrowserContextOptions = { viewport: DESK }): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  const textOf = async (page: Page): Promise<string> =>
    (await page.locator("main").innerText()).replaceAll(/\s+/g, " ");

  it("the promise, the drift, the calls and the way back, as a dispatcher and a crew see them", async () => {
    const { desk, app } = await start(true);
    // The crew's phone is another app on the same desk, which lets nobody in but by a link.
    const { people, app: outside } = await start(false);
    const token = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    const page = await openPage({ viewport: DESK, javaScriptEnabled: false });
    const phone = await openPage({ viewport: PHONE, javaScriptEnabled: false });
    const openSheet = async (): Promise<string> => {
      await phone.goto(`${outside.url}/link/${token}`);
      await phone.goto(`${outside.url}/crew/alder/2026-12-04`);
      return textOf(phone);
    };

    await page.goto(app.url);
    expect(await textOf(page)).toContain("Nothing is published yet: all of this is a forecast.");
    expect(await openSheet()).toContain("nothing is published yet");

    await page.getByLabel("Why (for the record; may stay empty)").fill("agreed with Noor");
    await page.getByRole("button", { name: "Publish this plan" }).click();
    expect(new URL(page.url()).pathname).toBe("/board/2026-12-04");
    expect(await textOf(page)).toContain(
      "This day is as published. Published Thu 3 Dec, 4:00 pm by Robin: agreed with Noor",
    );
    expect(await openSheet()).toContain("Published: this day holds.");

    const input = { from: "2026-12-04", to: "2026-12-07", why: "flu" };
    await desk.make({ kind: "day-off-added", crew: "alder", input }, CASEY);
    await page.goto(`${app.url}/board/2026-12-04`);
    expect(await textOf(page)).toContain(
      "Siding at 12 Harbor Road: published Fri 4 Dec, now Tue 8 Dec — Alder is off Fri 4 Dec: flu",
    );
    const sheet = await openSheet();
    expect(sheet).toContain("until it publishes that one, go by this sheet");
    expect(sheet).toContain("12 Harbor Road");

    await page.getByRole("button", { name: "Publish this plan" }).click();
    expect(await openSheet()).toContain("Alder is not called out that day: flu.");
    await page.getByRole("link", { name: "Calls to make" }).first().click();
    expect(await page.locator(".call-open h3").allTextContents()).toEqual([
      "Homeowner, 12 Harbor Road",
      "Birch (subcontractor), Mateo",
    ]);
    expect(await page.locator(".call-open .say").first().textContent()).toBe(
      "Good afternoon, this is Tern Rock Exteriors. The siding at your house begins Tuesday 8 December instead of Friday 4 December, because the crew is not at work that day. The stone at your house begins Tuesday 8 December instead of Monday 7 December, because other work at your house has to be finished first.",
    );
    await page.getByRole("button", { name: "Called Homeowner, 12 Harbor Road" }).click();
    expect(await textOf(page)).toContain("Made Thu 3 Dec, 4:00 pm by Robin.");

    await page.goto(app.url);
    await page.getByText("Undo the last publish", { exact: true }).click();
    await page.getByRole("button", { name: "Take the publish back" }).click();
    expect(await textOf(page)).toContain("published Fri 4 Dec, now Tue 8 Dec");
    await page.goto(`${app.url}/calls`);
    // Who was told of the change is told that it is off; who was not need not be called at all.
    expect(await page.locator(".call-open h3").allTextContents()).toEqual(["Homeowner, 12 Harbor Road"]);
    expect(await page.locator(".call-open .say").textContent()).toContain(
      "Siding: Friday 4 December holds after all, and not Tuesday 8 December.",
    );
    expect(await page.locator(".call-withdrawn h3").allTextContents()).toEqual([
      "Birch (subcontractor), Mateo",
    ]);
    expect(await openSheet()).toContain("until it publishes that one, go by this sheet");
  });

  it.each([DESK, SMALL_PHONE])(
    "no page of it has an accessibility fault, scrolls sideways or has a target too small (%o)",
    async (viewport) => {
      const { desk, app } = await start(true);
      const page = await openPage({ viewport });
      const publish = async (): Promise<void> => {
        const published = await desk.publish({ planId: desk.current().planId }, CASEY);
        expect(published.ok).toBe(true);
      };
      await page.goto(`${app.url}/published`);
      await checkPage(page);
      await publish();
      const input = { from: "2026-12-04", to: "2026-12-07", why: "flu" };
      await desk.make({ kind: "day-off-added", crew: "alder", input }, CASEY);
      for (const path of ["/", "/published", "/crew/alder/2026-12-04"]) {
        await page.goto(app.url + path);
        await checkPage(page);
      }
      await publish();
      await page.goto(`${app.url}/calls`);
      await page.getByRole("button", { name: "Called Homeowner" }).click();
      await checkPage(page);
      await desk.make({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-18" }, CASEY);
      // A form that was made for a plan that stands no more.
      const response = await app.post("/published", { plan: "1", reason: "late" });
      await page.setContent((await response.text()).replace("<head>", `<head><base href="${app.url}/">`));
      await checkPage(page);
    },
  );

  async function checkPage(page: Page): Promise<void> {
    await unfold(page);
    await expectUsable(page, "main button, main summary, main input, main select, main .action");
  }
});
