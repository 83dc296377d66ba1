/** The board in a real browser while a better plan is looked for: it stands still, tells the truth, and waits to be asked. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan } from "../../src/domain/plan-format.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import type { DeskState } from "../../src/services/desk.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { makeFakeDesk } from "../web/fake-desk.js";
import { startApp } from "../web/running-app.js";
import { expectSound } from "../support/page-faults.js";

const SIZES = [
  { width: 1280, height: 900 },
  { width: 800, height: 900 },
  { width: 390, height: 844 },
  { width: 320, height: 640 },
];
const GOING = { iteration: 1_240, cost: 120, milliseconds: 2_000 };

/** What the desk is in the middle of; a test changes it under the open page. */
interface Scene {
  planning: DeskState["planning"];
  plan: Plan;
}

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  /** Opens the board on a desk whose search goes on, and fails where the browser complained of anything. */
  async function onBoard(
    options: { viewport?: (typeof SIZES)[number]; javaScriptEnabled?: boolean },
    check: (page: Page, scene: Scene) => Promise<void>,
  ): Promise<void> {
    const scene: Scene = { planning: GOING, plan: decemberPlan() };
    const nowMinute = minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York");
    const { plan, planning } = { plan: () => scene.plan, planning: () => scene.planning };
    const app = await startApp(makeFakeDesk({ company: decemberCompany(), nowMinute, plan, planning }));
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
    const complaints: string[] = [];
    try {
      const page = await context.newPage();
      page.on("console", (message) => complaints.push(message.text()));
      page.on("pageerror", (error) => complaints.push(error.message));
      await page.goto(app.url);
      await check(page, scene);
    } finally {
      await context.close();
      await app.close();
    }
    expect(complaints).toEqual([]);
  }

  const lineOf = (page: Page): Promise<string> => page.locator(".planning").innerText();
  const topOfPoles = async (page: Page): Promise<number | undefined> =>
    (await page.locator(".pole").first().boundingBox())?.y;
  const cheaper = (plan: Plan): Plan => ({ ...plan, cost: { ...plan.cost, total: plan.cost.total - 1 } });

  it.each(SIZES)(
    "the line has no accessibility fault and scrolls nothing sideways (%o)",
    async (viewport) => {
      await onBoard({ viewport }, async (page) => {
        expect(await lineOf(page)).toMatch(/^Improving the plan… 1,240 tries, cost 380 → 120\s+Look again$/);
        await expectSound(page);
      });
    },
  );

  it.each(SIZES)(
    "the board stands still while the line changes, until the better plan is asked for (%o)",
    async (viewport) => {
      await onBoard({ viewport }, async (page, scene) => {
        const top = await topOfPoles(page);
        scene.planning = { ...GOING, iteration: 9_876 };
        await page.getByText("9,876 tries").waitFor();
        expect(await topOfPoles(page)).toBe(top);
        Object.assign(scene, { planning: null, plan: cheaper(scene.plan) });
        await page.getByText("There is a better plan now.").waitFor();
        expect(await topOfPoles(page)).toBe(top);
        expect(await page.getByRole("status").textContent()).toBe("There is a better plan now.");
        await page.getByRole("link", { name: "Show it" }).click();
        await page.locator(".planning").waitFor({ state: "detached" });
        expect(await page.locator(".cost tfoot").textContent()).toContain("379");
      });
    },
  );

  it("on a wide screen the board is as high without the line as with it", async () => {
    await onBoard({}, async (page, scene) => {
      const top = await topOfPoles(page);
      scene.planning = null;
      await page.reload();
      expect(await page.locator(".planning").count()).toBe(0);
      expect(await topOfPoles(page)).toBe(top);
    });
  });

  it("says so where no better plan was found, and then offers nothing", async () => {
    await onBoard({}, async (page, scene) => {
      scene.planning = null;
      await page.getByText("No better plan was found.").waitFor();
      expect(await page.locator(".planning a").isVisible()).toBe(false);
    });
  });

  it("without script the link shows how far it is by now", async () => {
    await onBoard({ javaScriptEnabled: false }, async (page, scene) => {
      scene.planning = { ...GOING, iteration: 2_000 };
      await page.getByRole("link", { name: "Look again" }).click();
      await page.getByText("2,000 tries").waitFor();
    });
  });

  it("is not printed", async () => {
    await onBoard({}, async (page) => {
      await page.emulateMedia({ media: "print" });
      expect(await page.locator(".planning").isVisible()).toBe(false);
    });
  });
});
