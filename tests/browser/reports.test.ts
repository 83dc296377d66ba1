/** A crew reports from its phone in a real browser, without script, and the office sees it with its ripple. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { openPeople } from "../../src/services/people.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { expectFitForCrews, expectUsable, unfold } from "../support/page-faults.js";
import { CHEAP, COMMAND_LINE, good, makeMember } from "../support/people.js";
import { startDemoServer, type TestServer } from "../support/server.js";

const PHONE = {
  viewport: { width: 390, height: 844 },
  javaScriptEnabled: false,
  hasTouch: true,
  isMobile: true,
};
const SMALL = { width: 320, height: 640 };
const DESK = { width: 1280, height: 900 };

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  let app: TestServer;
  let link: string;
  let session: string;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:30", {})]);
    const people = openPeople(app.database, { passwordCost: CHEAP });
    link = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    session = (await makeMember(people, "dispatcher")).token;
  });
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  async function openPage(options: BrowserContextOptions): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  /** A page of the office, which has script, and by which axe can look at it. */
  async function openOffice(path: string, viewport = DESK): Promise<Page> {
    const page = await openPage({ viewport });
    await page.context().addCookies([{ name: "daylap-session", value: session, url: app.url }]);
    await page.goto(app.url + path);
    return page;
  }

  it("a crew says done, stuck and damage with a thumb or two each, and the office sees it at once", async () => {
    const phone = await openPage(PHONE);
    await phone.goto(`${app.url}/link/${link}`);
    await phone
      .getByRole("link", { name: /^Report ?: / })
      .first()
      .tap();
    await phone.waitForURL(/2026-12-08\/report#task-1$/);
    const first = phone.locator("#task-1");
    expect(await phone.getByRole("heading", { level: 1 }).textContent()).toBe("Report for Tue 8 Dec");

    await first.locator("summary", { hasText: "Stuck" }).tap();
    await first.getByRole("button", { name: "Material" }).tap();
    await phone.getByRole("status").getByText("Stuck: Material").waitFor();

    const damaged = phone.locator("#task-1");
    await damaged.locator("summary", { hasText: "Damage found" }).tap();
    await damaged.getByLabel("How much, as far as you see").fill("3");
    await damaged.getByLabel("Labor-hours more, if you can tell").fill("40");
    await damaged.getByRole("button", { name: /^Send ?: Damage found/ }).tap();
    await phone.getByRole("status").getByText("3 sheets, 40 labor-hours more").waitFor();
    expect(await phone.getByRole("link", { name: "Add a photo" }).isVisible()).toBe(true);

    // What is done today is said on today's page, which has what was said today for tomorrow as well.
    await phone.goto(`${app.url}/crew/alder`);
    await phone.getByRole("link", { name: "Report for today" }).tap();
    await phone.waitForURL(/2026-12-07\/report$/);
    await phone
      .locator("#task-1")
      .getByRole("button", { name: /^Done ?: / })
      .tap();
    await phone.getByRole("status").getByText("Done").waitFor();
    expect(await phone.locator(".said-list li").count()).toBe(3);
    expect(await phone.locator(".said-list").textContent()).toContain("Tue 8 Dec");

    const office = await openOffice("/reports");
    const reports = office.locator(".office-report");
    expect(await reports.count()).toBe(3);
    expect(await reports.nth(0).getByRole("heading").textContent()).toContain("Alder: Done");
    expect(await reports.nth(1).locator(".ripple").textContent()).toContain("later");
    expect(await office.locator(".masthead .count").textContent()).toBe("3");
    await unfold(office);
    await expectUsable(office, "main .report-actions button, main .report-actions a, main summary");

    const [beside, board] = [await openOffice("/reports"), await openOffice("/")];
    await reports
      .nth(2)
      .getByRole("button", { name: /^Settled/ })
      .click();
    for (const page of [office, beside, board]) {
      await page.locator(".masthead .count", { hasText: "2" }).waitFor();
    }
    expect(await beside.locator("section", { hasText: "Not settled" }).locator("li.is-open").count()).toBe(2);
    await phone.reload();
    expect(await phone.locator(".said-list").textContent()).toContain("Seen by the office.");
  });

  it("a form that was not taken comes back with what was typed, unfolded, and fit for a phone on a roof", async () => {
    const page = await openOffice("/crew/alder/2026-12-08/report", SMALL);
    const task = page.locator("#task-1");
    await task.locator("summary", { hasText: "Start, done, hours left" }).click();
    await task.locator("summary", { hasText: /^Hours left/ }).click();
    await task.getByLabel("Or in labor-hours").fill("plenty");
    await task.getByRole("button", { name: /^Send ?: Hours left/ }).click();
    await page.getByRole("alert").waitFor();
    expect(await task.getByLabel("Or in labor-hours").inputValue()).toBe("plenty");
    await expectFitForCrews(page);
    await task.getByLabel("Or in labor-hours").fill("4.5");
    await task.getByRole("button", { name: /^Send ?: Hours left/ }).click();
    await page.getByRole("status").getByText("4.5 labor-hours left").waitFor();
  });
});
