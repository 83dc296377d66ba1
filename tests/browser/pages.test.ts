/** The pages in a real browser: nothing cut off, nothing sideways, no accessibility fault, and a hold moves the board. */
import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { startDemoServer, type TestServer } from "../support/server.js";
import { makeFakeDesk } from "../web/fake-desk.js";
import { startApp } from "../web/running-app.js";

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };
const SMALL_PHONE = { width: 320, height: 640 };
const TOMORROW = "2026-12-08";

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  let app: TestServer;
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:10")]);
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  /** Opens a page, runs the check, and fails where the browser complained of anything on the way. */
  async function onPage(
    path: string,
    options: BrowserContextOptions,
    check: (page: Page) => Promise<void>,
    served: { readonly url: string } = app,
  ): Promise<void> {
    const context = await browser.newContext(options);
    const complaints: string[] = [];
    try {
      const page = await context.newPage();
      page.on("console", (message) => complaints.push(message.text()));
      page.on("requestfailed", (request) => {
        const why = request.failure()?.errorText ?? "no reason given";
        // A page that is left while its icon is still on the way: no fault of the page.
        if (why !== "net::ERR_ABORTED") complaints.push(`${request.url()}: ${why}`);
      });
      await page.goto(served.url + path);
      await check(page);
    } finally {
      await context.close();
    }
    expect(complaints).toEqual([]);
  }

  const faultsOf = async (page: Page, enhanced = false): Promise<readonly string[]> => {
    const axe = new AxeBuilder({ page });
    if (enhanced) axe.options({ rules: { "color-contrast-enhanced": { enabled: true } } });
    const { violations } = await axe.analyze();
    return violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html}`));
  };

  const sideways = (page: Page): Promise<number> =>
    page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

  describe("every page", () => {
    it.each([
      ["/", DESK],
      ["/", PHONE],
      ["/board/2026-12-09", DESK],
      ["/waiting", DESK],
      ["/waiting", PHONE],
      ["/jobs", DESK],
      ["/jobs/heron-22", PHONE],
      ["/holds", DESK],
      ["/holds", SMALL_PHONE],
      ["/published", DESK],
      ["/published", SMALL_PHONE],
      ["/calls", SMALL_PHONE],
      ["/reports", SMALL_PHONE],
      ["/crew/birch", DESK],
    ])("%s has no accessibility fault and does not scroll sideways (%o)", async (path, viewport) => {
      await onPage(path, { viewport }, async (page) => {
        expect(await faultsOf(page)).toEqual([]);
        expect(await sideways(page)).toBeLessThanOrEqual(0);
      });
    });

    it("has no accessibility fault where it says that nothing was found", async () => {
      const context = await browser.newContext({ viewport: PHONE });
      try {
        const page = await context.newPage();
        expect((await page.goto(`${app.url}/crew/unknown`))?.status()).toBe(404);
        expect(await faultsOf(page)).toEqual([]);
      } finally {
        await context.close();
      }
    });
  });

  describe("the board", () => {
    const cutOff = (page: Page): Promise<readonly string[]> =>
      page.evaluate(() =>
        [...document.querySelectorAll(".tag .words")]
          .filter(
            (words) =>
              words.scrollHeight > words.clientHeight + 1 || words.scrollWidth > words.clientWidth + 1,
          )
          .map((words) => words.textContent.trim().replaceAll(/\s+/g, " ")),
      );

    it.each([
      "2026-12-08",
      "2026-12-10",
      "2026-12-11",
      "2026-12-14",
      "2026-12-15",
      "2026-12-17",
      "2026-12-21",
    ])("cuts off no words on %s", async (date) => {
      await onPage(`/board/${date}`, { viewport: DESK }, async (page) => {
        expect(await page.locator(".tag").count()).toBeGreaterThan(0);
        expect(await cutOff(page)).toEqual([]);
      });
    });

    it("stands a tag at its true time: the stripe of work at noon is beside the mark of noon", async () => {
      await onPage(`/board/${TOMORROW}`, { viewport: DESK }, async (page) => {
        const noon = await page.locator(".mark", { hasText: "noon" }).boundingBox();
        const pauses = await page
          .locator(".tag-break", { hasText: "from 12:00 pm" })
          .first()
          .locator(".true-time")
          .boundingBox();
        expect(noon).not.toBeNull();
        expect(Math.abs((pauses?.y ?? 0) - ((noon?.y ?? 0) + (noon?.height ?? 0) / 2))).toBeLessThan(2);
      });
    });

    it("is read aloud as lists under the crews' names, each tag with its trade and its end", async () => {
      await onPage(`/board/${TOMORROW}`, { viewport: DESK }, async (page) => {
        const birch = page.locator(".pole", { has: page.getByRole("heading", { name: "Birch" }) });
        const items = birch.getByRole("list").getByRole("listitem");
        expect(await items.filter({ hasText: "Tear-off:" }).first().textContent()).toMatch(
          /until \d+:\d\d (am|pm)/,
        );
      });
    });

    it("scrolls nine crews sideways inside itself, and the page stays", async () => {
      const company = decemberCompany();
      const plan = decemberPlan();
      const ids = Array.from({ length: 9 }, (_, index) => `crew-${index + 1}`);
      const nine = await startApp(
        makeFakeDesk({
          company: {
            ...company,
            crews: ids.flatMap((id) => company.crews.slice(0, 1).map((crew) => ({ ...crew, id, name: id }))),
          },
          nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
          plan: () => ({
            ...plan,
            blocks: ids.flatMap((crew) =>
              plan.blocks.filter((block) => block.crew === "alder").map((block) => ({ ...block, crew })),
            ),
            days: ids.flatMap((crew) =>
              plan.days.filter((day) => day.crew === "alder").map((day) => ({ ...day, crew })),
            ),
          }),
        }),
      );
      try {
        await onPage(
          "/",
          { viewport: DESK },
          async (page) => {
            expect(await page.locator(".pole").count()).toBe(9);
            expect(await sideways(page)).toBeLessThanOrEqual(0);
            const inside = await page
              .locator(".board-scroll")
              .evaluate((box) => box.scrollWidth - box.clientWidth);
            expect(inside).toBeGreaterThan(500);
          },
          nine,
        );
      } finally {
        await nine.close();
      }
    });

    it.each([PHONE, SMALL_PHONE])(
      "is a list that leads to the day sheets on a phone (%o)",
      async (viewport) => {
        await onPage("/", { viewport }, async (page) => {
          expect(await page.locator(".ground").isVisible()).toBe(false);
          expect(await sideways(page)).toBeLessThanOrEqual(0);
          await page.getByRole("link", { name: "Alder · day sheet" }).click();
          expect(new URL(page.url()).pathname).toBe(`/crew/alder/${TOMORROW}`);
        });
      },
    );

    it("prints as a list, without the light behind it and without controls", async () => {
      await onPage("/", { viewport: DESK }, async (page) => {
        await page.emulateMedia({ media: "print" });
        for (const selector of [".ground", ".chalk", ".masthead nav", ".days"]) {
          expect(await page.locator(selector).isVisible()).toBe(false);
        }
        expect(await page.locator(".tag").first().isVisible()).toBe(true);
      });
    });
  });

  describe("the day sheet", () => {
    const sheets = [
      "/crew/birch",
      "/crew/alder/2026-12-11?lang=es",
      "/crew/cedar/2026-12-09",
      "/crew/dune/2026-12-12",
    ];
    const cases = sheets.flatMap((path) => [SMALL_PHONE, PHONE].map((viewport) => [path, viewport] as const));

    it.each(cases)("%s fits the phone, with a contrast of 7 to 1 (%o)", async (path, viewport) => {
      await onPage(path, { viewport, hasTouch: true, isMobile: true }, async (page) => {
        expect(await sideways(page)).toBeLessThanOrEqual(0);
        expect(await faultsOf(page, true)).toEqual([]);
      });
    });

    it.each(cases)(
      "%s has its controls under the thumb, at least 44 px each way (%o)",
      async (path, viewport) => {
        await onPage(path, { viewport, hasTouch: true, isMobile: true }, async (page) => {
          const controls = await page.locator(".thumbs a").all();
          expect(controls).toHaveLength(4);
          for (const control of controls) {
            const box = await control.boundingBox();
            expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
            expect((box?.y ?? 0) + (box?.height ?? 0)).toBeGreaterThan(viewport.height - 80);
          }
        });
      },
    );

    it("shows where and when the day starts, and its end of light, without scrolling", async () => {
      await onPage("/crew/birch", { viewport: SMALL_PHONE, hasTouch: true, isMobile: true }, async (page) => {
        for (const selector of [".start .numeral", ".start .place", ".tools-down dd"]) {
          const box = await page.locator(selector).first().boundingBox();
          expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThan(SMALL_PHONE.height - 54);
        }
      });
    });

    it("changes language and day by its controls", async () => {
      await onPage("/crew/birch", { viewport: PHONE }, async (page) => {
        await page.getByRole("link", { name: "Español" }).click();
        expect(await page.locator("html").getAttribute("lang")).toBe("es");
        await page.getByRole("link", { name: "Hoy" }).click();
        expect(await page.locator("h1").textContent()).toBe("Lunes 7 de diciembre");
      });
    });
  });

  describe("a hold", () => {
    it("that is added without script takes outdoor work off the board, and comes back when lifted", async () => {
      await onPage("/", { viewport: DESK, javaScriptEnabled: false }, async (page) => {
        const before = await page.locator(".tag-work").count();
        expect(before).toBeGreaterThan(0);
        await page.getByRole("link", { name: "Holds", exact: true }).click();
        await page.getByLabel("From", { exact: true }).fill(`${TOMORROW}T00:00`);
        await page.getByLabel("To", { exact: true }).fill("2026-12-09T00:00");
        await page.getByLabel("All work").check();
        await page.getByLabel("Why", { exact: true }).fill("freezing rain");
        await page.getByRole("button", { name: "Add the hold and plan again" }).click();
        expect(new URL(page.url()).pathname).toBe("/holds");

        await page.goto(`${app.url}/board/${TOMORROW}`);
        expect(await page.locator(".tag-work").count()).toBe(0);
        expect(await page.locator("#holds").textContent()).toContain("freezing rain");

        await page.goto(`${app.url}/holds`);
        await page.getByRole("button", { name: 'Lift the hold "freezing rain"' }).click();
        await page.goto(`${app.url}/board/${TOMORROW}`);
        expect(await page.locator(".tag-work").count()).toBe(before);
      });
    });

    it("that is wrong comes back with its faults beside the fields, and no accessibility fault", async () => {
      const context = await browser.newContext({ viewport: DESK });
      try {
        const page = await context.newPage();
        await page.goto(`${app.url}/holds`);
        await page.getByLabel("From", { exact: true }).fill(`${TOMORROW}T12:00`);
        await page.getByLabel("To", { exact: true }).fill(`${TOMORROW}T08:00`);
        await page.getByLabel("Why", { exact: true }).fill("backwards");
        await page.getByRole("button", { name: "Add the hold and plan again" }).click();
        expect(await page.getByRole("alert").textContent()).toContain("Nothing was changed");
        expect(await page.getByLabel("Why", { exact: true }).inputValue()).toBe("backwards");
        expect(await faultsOf(page)).toEqual([]);
      } finally {
        await context.close();
      }
    });
  });
});
