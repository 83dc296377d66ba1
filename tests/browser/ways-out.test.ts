/**
 * A dispatcher's afternoon in a real browser, on the demo company: a crew lead calls, the slip is reported, ways out are
 * compared, one is taken, two crews' sheets are right, a call is made, and all of it is taken back.
 */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { ROBIN } from "../support/desk.js";
import { expectUsable, listSmallTargets, measureSideways, unfold } from "../support/page-faults.js";
import { startDemoServer, type TestServer } from "../support/server.js";

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };
const TARGETS = "main button, main .change summary, main input:not([type=hidden]), main select, main .action";
/** Where screenshots are wanted: a folder. */
const PICTURES = process.env["DAYLAP_PICTURES"];

describe.runIf(browserAvailable())("a slip in a browser", () => {
  let browser: Browser;
  let app: TestServer;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-08T10:30")]);
    const published = await app.desk.publish({ planId: app.desk.current().planId }, ROBIN);
    if (!published.ok) throw new Error(JSON.stringify(published.error));
  });
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  async function openPage(viewport: typeof DESK): Promise<Page> {
    const context = await browser.newContext({ viewport, javaScriptEnabled: true });
    contexts.push(context);
    return context.newPage();
  }

  const textOf = async (page: Page): Promise<string> =>
    (await page.locator("main").innerText()).replaceAll(/\s+/g, " ");
  const shoot = async (page: Page, name: string): Promise<void> => {
    if (PICTURES !== undefined) await page.screenshot({ path: `${PICTURES}/${name}.png`, fullPage: true });
  };

  /**
   * Accessibility faults on a phone, and sideways scrolling and targets too small for a finger there and on a wide screen,
   * with everything unfolded.
   */
  async function checkPage(page: Page): Promise<void> {
    await unfold(page);
    await page.setViewportSize(DESK);
    expect(await measureSideways(page)).toBeLessThanOrEqual(0);
    expect(await listSmallTargets(page, TARGETS, "fieldset input")).toEqual([]);
    await page.setViewportSize(PHONE);
    await expectUsable(page, TARGETS, "fieldset input");
  }

  it("is reported in three fields, compared, taken, seen on two sheets, called about, and taken back", async () => {
    const { desk } = app;
    const before = desk.current();
    const page = await openPage(DESK);

    await page.goto(app.url);
    await page.getByRole("link", { name: "Something slipped" }).click();
    await page.getByText("A task takes longer").click();
    await page.locator("#hours-added-task").selectOption("spruce-14/front-siding");
    await page.locator("#hours-added-hours").fill("16");
    await page.locator("details[open]").getByRole("button", { name: "Show the ways out" }).click();
    expect(await textOf(page)).toContain("Side the front at 14 Spruce Lane: 16 labor-hours more");
    expect(desk.current().version).toBe(before.version);
    await shoot(page, "ways-1280");

    const columns = await page.locator("table.ways thead th").allInnerTexts();
    expect(columns[0]).toBe("Hold the order");
    expect(columns.length).toBeGreaterThan(1);
    await page.locator("table.ways tfoot a").last().click();
    expect(await page.locator("h1").innerText()).toBe(`Way out: ${columns.at(-1) ?? ""}`);
    await shoot(page, "way-1280");
    await page.getByLabel("Why (for the record)").fill("the lead called");
    await page.getByRole("button", { name: /^Take/ }).click();
    expect(new URL(page.url()).pathname).toBe("/calls");

    const taken = desk.current();
    expect(taken.version).toBe(before.version + 1);
    expect(taken.publication?.why).toBe("the lead called");
    const calls = page.getByRole("button", { name: /^Called/ });
    const open = await calls.count();
    expect(open).toBeGreaterThan(0);
    await calls.first().click();
    expect(await page.getByRole("button", { name: /^Called/ }).count()).toBe(open - 1);

    // Two crews' sheets say what the plan that was taken has for them, as published.
    const phone = await openPage(PHONE);
    const works = taken.plan.blocks.filter(({ kind }) => kind === "work");
    const crews = [...new Set(works.map(({ crew }) => crew))].slice(0, 2);
    expect(crews).toHaveLength(2);
    for (const crew of crews) {
      const block = present(
        works.find((one) => one.crew === crew),
        "work",
      );
      await phone.goto(`${app.url}/crew/${crew}/${block.start.slice(0, 10)}`);
      const job = present(
        taken.company.jobs.find(({ id }) => id === block.job),
        "the house",
      );
      const sheet = await textOf(phone);
      expect(sheet).toContain(job.name);
      expect(sheet).toContain("Published: ");
      await shoot(phone, `sheet-${crew}`);
    }

    await page.goto(`${app.url}/record`);
    await page.locator("main").getByText("Take back").first().click();
    await page.locator(`form[action="/record/${taken.version}/undo"] button`).click();
    expect(desk.current().version).toBe(taken.version + 1);
    expect(desk.current().source).toEqual(before.source);
  }, 120_000);

  it("has pages that everybody can use, on a wide screen and on a small one", async () => {
    const page = await openPage(DESK);
    const slip = "slip=day-off-added&crew=dune&from=2026-12-09&to=2026-12-10";
    const pages = [
      "/slip?slip=hours-added&task=spruce-14/front-siding",
      "/ways?slip=day-off-added&crew=&from=soon",
      `/ways?${slip}`,
      "/ways?wish=pin-day&wishTask=kelp-3/front-siding&wishDate=2026-12-09",
      `/ways/look?${slip}&way=hold`,
    ];
    for (const path of pages) {
      await page.goto(app.url + path);
      await checkPage(page);
      await shoot(page, `small${path.replaceAll(/[^a-z]+/g, "-").slice(0, 40)}`);
    }
  }, 120_000);
});
