/** What comes out of the printer: a letter page for the board and one for each crew, well filled, in black and white. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { startDemoServer, type TestServer } from "../support/server.js";
import { expectSound } from "../support/page-faults.js";

const LETTER = "612 x 792";
/** A letter page within its margins, in px of a screen. */
const WITHIN_MARGINS = { width: 739, height: 979 };
const LARGEST_PT = 14;

describe.runIf(browserAvailable())("a printed day", () => {
  let browser: Browser;
  let app: TestServer;
  let page: Page;
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:10")]);
    page = await (await browser.newContext({ viewport: WITHIN_MARGINS })).newPage();
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  /** The pages of the PDF, each with its size in points. */
  async function print(path: string): Promise<readonly string[]> {
    await page.goto(app.url + path);
    // Whoever prints has seen the page, and with it its type.
    await page.evaluate(async () => {
      await document.fonts.ready;
    });
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    return [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(
      ([, width, height]) => `${Math.round(Number(width))} x ${Math.round(Number(height))}`,
    );
  }

  /** Pages that could be set larger, and tasks whose box is divided between two columns. */
  async function listPoorlySet(): Promise<readonly string[]> {
    await page.emulateMedia({ media: "print" });
    const poor = await page.evaluate(
      ({ paper, largest }) => {
        const loose = [...document.querySelectorAll(".sheet-page")].filter((sheet) => {
          const size = Number.parseFloat(getComputedStyle(sheet).fontSize) * 0.75;
          return size < largest && sheet.getBoundingClientRect().height < 0.8 * paper;
        });
        const divided = [...document.querySelectorAll(".print-work")].filter(
          (box) => box.getClientRects().length > 1,
        );
        return [...loose, ...divided].map((one) =>
          one.textContent.trim().replaceAll(/\s+/g, " ").slice(0, 80),
        );
      },
      { paper: WITHIN_MARGINS.height, largest: LARGEST_PT - 0.01 },
    );
    await page.emulateMedia({ media: null });
    return poor;
  }

  it.each(["2026-12-08", "2026-12-10", "2026-12-11", "2026-12-14", "2026-12-16", "2026-12-17"])(
    "of %s is the board and a page for each crew that is called out, on letter paper, each as large as it fits",
    async (date) => {
      const pages = await print(`/print/${date}`);
      const crews = await page.locator(".crew-page").count();
      expect(crews).toBeGreaterThan(0);
      expect(pages).toEqual(Array.from({ length: crews + 1 }, () => LETTER));
      expect(await listPoorlySet()).toEqual([]);
    },
  );

  it("of one crew is one page, in Spanish where that is asked for", async () => {
    expect(await print("/crew/birch/2026-12-08/print")).toEqual([LETTER]);
    expect(await page.locator("h1").textContent()).toContain("Tuesday 8 December");
    expect(await page.locator("main").textContent()).toContain("Local code");
    // The fullest days, and one at home: a page that says so.
    for (const [path, title] of [
      ["/crew/birch/2026-12-08", "Martes 8 de diciembre"],
      ["/crew/birch/2026-12-16", "Miércoles 16 de diciembre"],
      ["/crew/alder/2026-12-17", "Jueves 17 de diciembre"],
      ["/crew/cedar/2026-12-15", "Martes 15 de diciembre"],
      ["/crew/birch/2026-12-13", "Domingo 13 de diciembre"],
    ] as const) {
      expect(await print(`${path}/print?lang=es`), path).toEqual([LETTER]);
      expect(await listPoorlySet()).toEqual([]);
      expect(await page.locator("h1").textContent()).toContain(title);
    }
  });

  it("is black on white, with nothing told by colour", async () => {
    await page.emulateMedia({ media: "print" });
    await page.goto(`${app.url}/print/2026-12-08`);
    const colours = await page.evaluate(() => [
      ...new Set(
        [...document.querySelectorAll("main *")].flatMap((element) => {
          const { color, borderTopColor, borderLeftColor, backgroundColor } = getComputedStyle(element);
          return [color, borderTopColor, borderLeftColor, backgroundColor];
        }),
      ),
    ]);
    await page.emulateMedia({ media: null });
    expect(colours.toSorted()).toEqual(["rgb(0, 0, 0)", "rgba(0, 0, 0, 0)"]);
  });

  it("leads from the board and from the sheet to what is printed, and has no accessibility fault", async () => {
    await page.goto(`${app.url}/board/2026-12-08`);
    await page.getByRole("link", { name: "Print all" }).click();
    await page.waitForURL("**/print/2026-12-08");
    await page.setViewportSize({ width: 320, height: 640 });
    await expectSound(page);
    await page.goto(`${app.url}/crew/birch/2026-12-08`);
    await page.getByRole("link", { name: "Print this sheet" }).click();
    await page.waitForURL("**/crew/birch/2026-12-08/print");
  });
});
