/** What people edit, in a real browser: two dispatchers in conflict, and every page of it on a wide and a small screen. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { makeFixedClock } from "../../src/services/clock.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { CASEY, useDesks } from "../support/desk.js";
import { CHEAP, makeMember, PASSWORD } from "../support/people.js";
import { AFTERNOON, EDITED_COMPANY } from "../web/editing.js";
import { startAppWith, TEST_OWNER, type RunningApp } from "../web/running-app.js";
import { expectUsable, listSmallTargets, measureSideways, unfold } from "../support/page-faults.js";

const DESK = { width: 1280, height: 900 };
const SMALL_PHONE = { width: 320, height: 640 };
const TARGETS = "main button, main .change summary, main input, main select, main textarea, main .action";

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
  const contexts: BrowserContext[] = [];
  const apps: RunningApp[] = [];
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    for (const app of apps.splice(0)) await app.close();
  });

  /** The app with its desk; whoever asks is the owner, or has to sign in. */
  async function start(company: unknown, isOpen: boolean) {
    const desk: OpenDesk = await desks.open(company);
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP });
    const app = await startAppWith(
      { desk, people, record: openRecord(database) },
      { clock: makeFixedClock(AFTERNOON), ...(isOpen && { automatic: TEST_OWNER }) },
    );
    apps.push(app);
    return { desk, people, app };
  }

  async function openPage(options: BrowserContextOptions = { viewport: DESK }): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  /**
   * Accessibility faults on the smallest screen, and sideways scrolling and targets too small for a finger on both, with
   * everything unfolded.
   */
  async function checkPage(page: Page): Promise<void> {
    await unfold(page);
    await page.setViewportSize(DESK);
    expect(await measureSideways(page)).toBeLessThanOrEqual(0);
    expect(await listSmallTargets(page, TARGETS, "fieldset input")).toEqual([]);
    await page.setViewportSize(SMALL_PHONE);
    await expectUsable(page, TARGETS, "fieldset input");
  }

  it("of two dispatchers who move one promised date, the second is told what the first did and keeps her date", async () => {
    const { app, people, desk } = await start(EDITED_COMPANY, false);
    await makeMember(people, "dispatcher", "ines");
    await makeMember(people, "dispatcher", "otto");
    const openJob = async (account: string): Promise<Page> => {
      const page = await openPage({ viewport: DESK, javaScriptEnabled: account !== "otto" });
      await page.goto(`${app.url}/sign-in`);
      await page.getByLabel("Account", { exact: true }).fill(account);
      await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
      await page.getByRole("button", { name: "Sign in" }).click();
      await page.goto(`${app.url}/jobs/harbor-12`);
      await page.getByText("Change the promised date", { exact: true }).click();
      return page;
    };
    const move = async (page: Page, date: string, why: string): Promise<void> => {
      await page.getByLabel("Promised date", { exact: true }).fill(date);
      await page.locator("#promised-reason").fill(why);
      await page.getByRole("button", { name: "Change the promised date" }).click();
    };
    const [ines, otto] = [await openJob("ines"), await openJob("otto")];
    await move(ines, "2026-12-08", "windows late");
    expect(await ines.locator(".facts").textContent()).toContain("promised Tue 8 Dec");
    await move(otto, "2026-12-11", "customer asked");
    const told = await otto.getByRole("alert").textContent();
    expect(told).toMatch(
      /has changed this since you opened the page: Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec\./,
    );
    expect(await otto.getByLabel("Promised date", { exact: true }).inputValue()).toBe("2026-12-11");
    expect(await otto.locator("#promised-reason").inputValue()).toBe("customer asked");
    expect(desk.current().company.jobs[0]?.promised).toBe("2026-12-08");
    await otto.getByRole("button", { name: "Change the promised date" }).click();
    expect(desk.current().company.jobs[0]?.promised).toBe("2026-12-11");
    await otto.goto(`${app.url}/record`);
    expect(await otto.locator(".record h2").allTextContents()).toEqual([
      "Promised date of 12 Harbor Road moved from Tue 8 Dec to Fri 11 Dec.",
      "Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec.",
      "Company file of Tern Rock Exteriors loaded.",
    ]);
  });

  it("an empty house begins with the demo company, without script", async () => {
    const { app, desk } = await start(undefined, true);
    const page = await openPage({ viewport: DESK, javaScriptEnabled: false });
    await page.goto(app.url);
    expect(new URL(page.url()).pathname).toBe("/company-file");
    await page.getByRole("button", { name: "Begin with the demo company" }).click();
    expect(new URL(page.url()).pathname).toBe("/");
    expect(await page.locator("h1").textContent()).toContain("Friday 4 December");
    expect(desk.isEmpty).toBe(false);
  });

  it("a company file is downloaded, changed, looked at and loaded", async () => {
    const { app, desk } = await start(EDITED_COMPANY, true);
    const page = await openPage();
    await page.goto(`${app.url}/company-file`);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "Download the company file" }).click(),
    ]);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
    const text = Buffer.concat(chunks).toString("utf8").replace("3 Cove Street", "5 Cove Street");
    await page.goto(`${app.url}/company-file`);
    await page.getByLabel("Company file", { exact: true }).setInputFiles({
      name: "company.json",
      mimeType: "application/json",
      buffer: Buffer.from(text),
    });
    await page.getByRole("button", { name: "Check it" }).click();
    expect(await page.locator(".before-after tbody tr").allTextContents()).toEqual([
      "Name3 Cove Street5 Cove Street",
    ]);
    await page.getByLabel("Why").fill("another house");
    await page.getByRole("button", { name: "Load this file" }).click();
    expect(new URL(page.url()).pathname).toBe("/");
    expect(desk.current().company.jobs[1]?.name).toBe("5 Cove Street");
  });

  it("no page has an accessibility fault, scrolls sideways or has a target too small for a finger", async () => {
    const { app, desk } = await start(EDITED_COMPANY, true);
    const page = await openPage();
    await desk.make({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-08" }, CASEY);
    await desk.make(
      { kind: "day-off-added", crew: "birch", input: { from: "2026-12-10", to: "2026-12-10", why: "" } },
      CASEY,
    );
    for (const path of [
      "/jobs/harbor-12",
      "/crews",
      "/crews/alder/days-off",
      "/holds",
      "/holds/wet",
      "/record",
      "/record?from=x",
      "/plans",
      "/company-file",
    ]) {
      await page.goto(app.url + path);
      await checkPage(page);
    }
    await page.goto(`${app.url}/company-file`);
    await page.getByLabel("Or paste one here").fill("{");
    await page.getByRole("button", { name: "Check it" }).click();
    await checkPage(page);
    await page
      .getByLabel("Or paste one here")
      .fill(JSON.stringify(EDITED_COMPANY).replace('"size":3', '"size":4'));
    await page.getByRole("button", { name: "Check it" }).click();
    expect(await page.locator("h1").textContent()).toBe("Look at it first");
    await checkPage(page);
    // A form that has come back, with its faults.
    await page.goto(`${app.url}/jobs/harbor-12`);
    await page.getByText("Change the promised date", { exact: true }).click();
    await page.getByLabel("Promised date", { exact: true }).fill("2026-12-01");
    await page.getByRole("button", { name: "Change the promised date" }).click();
    expect(await page.getByRole("alert").textContent()).toContain("has gone by");
    await checkPage(page);
  });
});
