/**
 * A dispatcher's afternoon in a real browser, on the demo company: a crew lead calls, the slip is reported, ways out are
 * compared, one is taken, two crews' sheets are right, a call is made, and all of it is taken back.
 */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate, parseInstant } from "../../src/domain/time.js";
import { openCalls } from "../../src/services/calls.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { startAppWith, TEST_OWNER, type RunningApp } from "../web/running-app.js";
import { expectUsable, unfold } from "../support/page-faults.js";

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };
const MORNING = present(parseInstant("2026-12-08T10:30", "America/New_York"), "the morning");
/** Where screenshots are wanted: a folder. */
const PICTURES = process.env["DAYLAP_PICTURES"];

describe.runIf(browserAvailable())("a slip in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const now = (): Date => new Date(MORNING * 60_000);
  const desks = useDesks({ clock: makeFixedClock(MORNING), now, iterations: 8 });
  const contexts: BrowserContext[] = [];
  const apps: RunningApp[] = [];
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    for (const app of apps.splice(0)) await app.close();
  });

  async function start() {
    const desk = await desks.open(layDemo(await readDemoTemplate(), civilDate("2026-12-08")));
    const published = await desk.publish({ planId: desk.current().planId }, ROBIN);
    if (!published.ok) throw new Error(JSON.stringify(published.error));
    const database = await desks.database();
    const services = {
      desk,
      people: openPeople(database),
      record: openRecord(database),
      calls: openCalls(database, now),
    };
    const app = await startAppWith(services, { clock: makeFixedClock(MORNING), automatic: TEST_OWNER });
    apps.push(app);
    return { desk, app };
  }

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

  /** Accessibility faults, sideways scrolling and targets too small for a finger, with everything unfolded. */
  async function checkPage(page: Page): Promise<void> {
    await unfold(page);
    await expectUsable(
      page,
      "main button, main .change summary, main input:not([type=hidden]), main select, main .action",
      "fieldset input",
    );
  }

  it("is reported in three fields, compared, taken, seen on two sheets, called about, and taken back", async () => {
    const { desk, app } = await start();
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

  it.each([
    ["wide", DESK],
    ["small", PHONE],
  ])(
    "its pages can be used by everybody on a %s screen",
    async (name, viewport) => {
      const { app } = await start();
      const page = await openPage(viewport);
      const slip = "slip=day-off-added&crew=dune&from=2026-12-09&to=2026-12-10";
      const pages = [
        "/slip?slip=hours-added&task=spruce-14/front-siding",
        "/ways?slip=day-off-added&crew=&from=soon",
        `/ways?${slip}`,
        "/ways?wish=pin-day&wishTask=kelp-3/front-siding&wishDate=2026-12-09",
        `/ways/look?${slip}&way=hold`,
        "/crew/alder/2026-12-09",
      ];
      for (const path of pages) {
        await page.goto(app.url + path);
        await shoot(page, `${name}${path.replaceAll(/[^a-z]+/g, "-").slice(0, 40)}`);
        await checkPage(page);
      }
    },
    120_000,
  );
});
