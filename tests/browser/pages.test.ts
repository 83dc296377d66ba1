/** The pages in a real browser: nothing cut off, nothing sideways, no accessibility fault, and a hold moves the board. */
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { openPeople } from "../../src/services/people.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { expectFitForCrews, expectSound, listAccessFaults, measureSideways } from "../support/page-faults.js";
import { COMMAND_LINE, good } from "../support/people.js";
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
  /** One for all tests; each opens in it what it looks at. */
  let page: Page;
  const complaints: string[] = [];
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:10")]);
    page = await (await browser.newContext()).newPage();
    listenTo(page);
  });
  afterEach(() => {
    expect(complaints.splice(0), "what the browser complained of").toEqual([]);
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  function listenTo(one: Page): void {
    one.on("console", (message) => complaints.push(message.text()));
    one.on("requestfailed", (request) => {
      const why = request.failure()?.errorText ?? "no reason given";
      // A page that is left while its icon or its stream is still on the way: no fault of the page.
      if (why !== "net::ERR_ABORTED") complaints.push(`${request.url()}: ${why}`);
    });
  }

  async function open(
    path: string,
    viewport: typeof DESK,
    served: { readonly url: string } = app,
  ): Promise<void> {
    await page.setViewportSize(viewport);
    await page.goto(served.url + path);
  }

  describe("every page", () => {
    // At the width at which it is laid out most differently; the board is another one on each.
    it.each([
      ["/", DESK],
      ["/", PHONE],
      ["/board/2026-12-09", DESK],
      ["/waiting", PHONE],
      ["/jobs", DESK],
      ["/jobs/heron-22", PHONE],
      ["/holds", SMALL_PHONE],
      ["/published", SMALL_PHONE],
      ["/calls", SMALL_PHONE],
      ["/reports", SMALL_PHONE],
    ])("%s has no accessibility fault, and scrolls sideways on no screen (%o)", async (path, viewport) => {
      await open(path, viewport);
      await expectSound(page);
      for (const other of [DESK, PHONE, SMALL_PHONE]) {
        await page.setViewportSize(other);
        expect(await measureSideways(page), `${other.width} px`).toBeLessThanOrEqual(0);
      }
    });

    it("has no accessibility fault where it says that nothing was found", async () => {
      await page.setViewportSize(PHONE);
      expect((await page.goto(`${app.url}/crew/unknown`))?.status()).toBe(404);
      expect(await listAccessFaults(page)).toEqual([]);
      // The browser says so too.
      expect(complaints.splice(0)).toHaveLength(1);
    });
  });

  describe("the board", () => {
    const cutOff = (): Promise<readonly string[]> =>
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
      await open(`/board/${date}`, DESK);
      expect(await page.locator(".tag").count()).toBeGreaterThan(0);
      expect(await cutOff()).toEqual([]);
    });

    it("stands a tag at its true time: the stripe of work at noon is beside the mark of noon", async () => {
      await open(`/board/${TOMORROW}`, DESK);
      const noon = await page.locator(".mark", { hasText: "noon" }).boundingBox();
      const pauses = await page
        .locator(".tag-break", { hasText: "from 12:00 pm" })
        .first()
        .locator(".true-time")
        .boundingBox();
      expect(noon).not.toBeNull();
      expect(Math.abs((pauses?.y ?? 0) - ((noon?.y ?? 0) + (noon?.height ?? 0) / 2))).toBeLessThan(2);
    });

    it("is read aloud as lists under the crews' names, each tag with its trade and its end", async () => {
      await open(`/board/${TOMORROW}`, DESK);
      const birch = page.locator(".pole", { has: page.getByRole("heading", { name: "Birch" }) });
      const items = birch.getByRole("list").getByRole("listitem");
      expect(await items.filter({ hasText: "Tear-off:" }).first().textContent()).toMatch(
        /until \d+:\d\d (am|pm)/,
      );
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
        await open("/", DESK, nine);
        expect(await page.locator(".pole").count()).toBe(9);
        expect(await measureSideways(page)).toBeLessThanOrEqual(0);
        const inside = await page
          .locator(".board-scroll")
          .evaluate((box) => box.scrollWidth - box.clientWidth);
        expect(inside).toBeGreaterThan(500);
      } finally {
        // Else the page would miss the server that it listens to.
        await page.goto("about:blank");
        await nine.close();
      }
    });

    it.each([PHONE, SMALL_PHONE])(
      "is a list that leads to the day sheets on a phone (%o)",
      async (viewport) => {
        await open("/", viewport);
        expect(await page.locator(".ground").isVisible()).toBe(false);
        expect(await measureSideways(page)).toBeLessThanOrEqual(0);
        await page.getByRole("link", { name: "Alder · day sheet" }).click();
        expect(new URL(page.url()).pathname).toBe(`/crew/alder/${TOMORROW}`);
      },
    );

    it("prints as a list, without the light behind it and without controls", async () => {
      await open("/", DESK);
      await page.emulateMedia({ media: "print" });
      for (const selector of [".ground", ".chalk", ".masthead nav", ".days"]) {
        expect(await page.locator(selector).isVisible()).toBe(false);
      }
      expect(await page.locator(".tag").first().isVisible()).toBe(true);
      await page.emulateMedia({ media: null });
    });
  });

  describe("a page for crews", () => {
    it.each([
      "/crew/birch",
      "/crew/alder/2026-12-11?lang=es",
      "/crew/cedar/2026-12-09",
      "/crew/dune/2026-12-12",
      "/crew/alder/2026-12-08/report",
      "/crew/birch/2026-12-08/report?lang=es",
      "/crew/alder/photos?date=2026-12-08",
      "/crew/alder/photos?date=2026-12-08&lang=es",
      "/crew/birch/2026-12-08/print?lang=es",
    ])("%s is fit for a phone on a roof", async (path) => {
      await open(path, PHONE);
      await expectFitForCrews(page);
    });

    it("is the homeowner's too", async () => {
      const house = { id: "spruce-14", name: "14 Spruce Lane" };
      const token = good(await openPeople(app.database).makePrivateLink("house", house, COMMAND_LINE));
      for (const language of ["en", "es"]) {
        await open(`/house/${token}?lang=${language}`, PHONE);
        await expectFitForCrews(page);
      }
    });
  });

  describe("the day sheet", () => {
    it.each(["/crew/birch", "/crew/alder/2026-12-11?lang=es"])(
      "%s has its controls under the thumb, wherever it is scrolled to",
      async (path) => {
        for (const viewport of [PHONE, SMALL_PHONE]) {
          await open(path, viewport);
          for (const top of [0, 1_000]) {
            await page.evaluate((to) => window.scrollTo(0, to), top);
            const boxes = await page
              .locator(".thumbs a")
              .evaluateAll((links) => links.map((link) => link.getBoundingClientRect().bottom));
            expect(boxes).toEqual(Array.from({ length: 4 }, () => viewport.height));
          }
        }
      },
    );

    it("shows where and when the day starts, and its end of light, without scrolling", async () => {
      await open("/crew/birch", SMALL_PHONE);
      for (const selector of [".start .numeral", ".start .place", ".tools-down dd"]) {
        const box = await page.locator(selector).first().boundingBox();
        expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThan(SMALL_PHONE.height - 54);
      }
    });

    it("tells each of the next days in a line or two, and changes language and day by its controls", async () => {
      await open("/crew/birch", PHONE);
      const lines = await page.locator(".next-days a").evaluateAll((links) =>
        links.map((link) => {
          const { lineHeight, paddingTop, paddingBottom } = getComputedStyle(link);
          const inside = link.clientHeight - parseFloat(paddingTop) - parseFloat(paddingBottom);
          return Math.round(inside / parseFloat(lineHeight));
        }),
      );
      expect(lines).toHaveLength(5);
      expect(Math.max(...lines)).toBeLessThanOrEqual(2);
      await page.getByRole("link", { name: "Español" }).click();
      expect(await page.locator("html").getAttribute("lang")).toBe("es");
      await page.getByRole("link", { name: "Hoy", exact: true }).click();
      expect(await page.locator("h1").textContent()).toBe("Lunes 7 de diciembre");
    });

    it("has one column on a wide screen too, and nothing sideways", async () => {
      await open("/crew/birch", DESK);
      expect(await measureSideways(page)).toBeLessThanOrEqual(0);
      expect((await page.locator("main").boundingBox())?.width).toBeLessThanOrEqual(36 * 16);
    });
  });

  describe("a hold", () => {
    it("that is added without script takes outdoor work off the board, and comes back when lifted", async () => {
      const context = await browser.newContext({ viewport: DESK, javaScriptEnabled: false });
      const plain = await context.newPage();
      listenTo(plain);
      await plain.goto(app.url);
      const before = await plain.locator(".tag-work").count();
      expect(before).toBeGreaterThan(0);
      await plain.getByRole("link", { name: "Holds", exact: true }).click();
      await plain.getByLabel("From", { exact: true }).fill(`${TOMORROW}T00:00`);
      await plain.getByLabel("To", { exact: true }).fill("2026-12-09T00:00");
      await plain.getByLabel("All work").check();
      await plain.getByLabel("Why", { exact: true }).fill("freezing rain");
      await plain.getByRole("button", { name: "Add the hold and plan again" }).click();
      expect(new URL(plain.url()).pathname).toBe("/holds");

      await plain.goto(`${app.url}/board/${TOMORROW}`);
      expect(await plain.locator(".tag-work").count()).toBe(0);
      expect(await plain.locator("#holds").textContent()).toContain("freezing rain");

      await plain.goto(`${app.url}/holds`);
      await plain.getByRole("button", { name: 'Lift the hold "freezing rain"' }).click();
      await plain.goto(`${app.url}/board/${TOMORROW}`);
      expect(await plain.locator(".tag-work").count()).toBe(before);
      await context.close();
    });

    it("that is wrong comes back with its faults beside the fields, and no accessibility fault", async () => {
      await open("/holds", DESK);
      await page.getByLabel("From", { exact: true }).fill(`${TOMORROW}T12:00`);
      await page.getByLabel("To", { exact: true }).fill(`${TOMORROW}T08:00`);
      await page.getByLabel("Why", { exact: true }).fill("backwards");
      await page.getByRole("button", { name: "Add the hold and plan again" }).click();
      expect(await page.getByRole("alert").textContent()).toContain("Nothing was changed");
      expect(await page.getByLabel("Why", { exact: true }).inputValue()).toBe("backwards");
      expect(await listAccessFaults(page)).toEqual([]);
      // The browser says of the answer that it is none of the good ones.
      expect(complaints.splice(0)).toHaveLength(1);
    });
  });
});
