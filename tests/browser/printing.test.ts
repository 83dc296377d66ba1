/** What comes out of the printer: a letter page for the board and one for each crew, in black and white. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { startDemoServer, type TestServer } from "../support/server.js";
import { listAccessFaults } from "../support/page-faults.js";

const LETTER = { width: 612, height: 792 };

describe.runIf(browserAvailable())("a printed day", () => {
  let browser: Browser;
  let app: TestServer;
  let page: Page;
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:10")]);
    page = await (await browser.newContext()).newPage();
  });
  afterAll(async () => {
    await browser.close();
    await app.stop();
  });

  /** The pages of the PDF, each with its size in points. */
  async function print(path: string): Promise<readonly string[]> {
    await page.goto(app.url + path);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    return [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(
      ([, width, height]) => `${Math.round(Number(width))} x ${Math.round(Number(height))}`,
    );
  }
  const ONE_PAGE = `${LETTER.width} x ${LETTER.height}`;

  it.each(["2026-12-08", "2026-12-10", "2026-12-11", "2026-12-14", "2026-12-15", "2026-12-17"])(
    "of %s is the board and a page for each crew that is called out, on letter paper",
    async (date) => {
      const pages = await print(`/print/${date}`);
      const crews = await page.locator(".crew-page").count();
      expect(crews).toBeGreaterThan(0);
      expect(pages).toEqual(Array.from({ length: crews + 1 }, () => ONE_PAGE));
    },
  );

  it("of one crew is one page, in Spanish where that is asked for", async () => {
    expect(await print("/crew/birch/2026-12-08/print")).toEqual([ONE_PAGE]);
    expect(await page.locator("h1").textContent()).toContain("Tuesday 8 December");
    expect(await print("/crew/birch/2026-12-08/print?lang=es")).toEqual([ONE_PAGE]);
    expect(await page.locator("h1").textContent()).toContain("Martes 8 de diciembre");
    expect(await page.locator("main").textContent()).toContain("El código local");
    // At home: a page that says so.
    expect(await print("/crew/birch/2026-12-13/print")).toEqual([ONE_PAGE]);
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
    await page.emulateMedia({ media: "screen" });
    expect(colours.toSorted()).toEqual(["rgb(0, 0, 0)", "rgba(0, 0, 0, 0)"]);
  });

  it("leads from the board and from the sheet to what is printed, and has no accessibility fault", async () => {
    await page.goto(`${app.url}/board/2026-12-08`);
    await page.getByRole("link", { name: "Print all" }).click();
    await page.waitForURL("**/print/2026-12-08");
    expect(await listAccessFaults(page)).toEqual([]);
    await page.goto(`${app.url}/crew/birch/2026-12-08`);
    await page.getByRole("link", { name: "Print this sheet" }).click();
    await page.waitForURL("**/crew/birch/2026-12-08/print");
  });
});
