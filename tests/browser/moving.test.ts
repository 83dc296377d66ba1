/** Work moved by hand on the board, in a real browser: without script, by keyboard and by pointer. */
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { startServer, type TestServer } from "../support/server.js";
import { MOVING_COMPANY } from "../web/moving-company.js";
import { expectSound, expectUsable, unfold } from "../support/page-faults.js";

const AFTERNOON = "2026-12-03T16:00";
const DESK = { width: 1280, height: 900 };
/** A first move starts a thread; the machine may be busy. */
const PATIENT = { timeout: 30_000 };

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const closings: (() => Promise<void>)[] = [];
  afterEach(async () => {
    for (const close of closings.splice(0).toReversed()) await close();
  });

  async function openBoard(options: BrowserContextOptions = { viewport: DESK }) {
    const server = await startServer(MOVING_COMPANY, AFTERNOON);
    closings.push(server.stop);
    const context = await browser.newContext(options);
    closings.push(() => context.close());
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(`${server.url}/board/2026-12-04`);
    return { page, server, complaints };
  }

  /** "birch 2026-12-07" */
  function placeOf({ desk }: TestServer, task: string): string {
    const entry = present(
      desk.current().plan.tasks.find((one) => one.task === task),
      task,
    );
    return `${entry.crew ?? ""} ${entry.start.slice(0, 10)}`;
  }

  /** Tasks of a crew's pole, each once, from the top. */
  const onPole = (page: Page, crew: string): Promise<(string | undefined)[]> =>
    page
      .locator(`.pole[data-crew="${crew}"] .tag[data-task]`)
      .evaluateAll((tags) => [
        ...new Set(tags.map((tag) => (tag instanceof HTMLElement ? tag.dataset["task"] : ""))),
      ]);
  const pick = (page: Page, task: string) => page.locator(`.tag[data-task="${task}"] .pick`).first();
  const price = (page: Page) => page.locator(".move-price");

  it("without script: the menu under the board leads to what it would mean, and that to the move", async () => {
    const { page, server, complaints } = await openBoard({ viewport: DESK, javaScriptEnabled: false });
    const menu = page.locator(".move-list details").filter({ hasText: "Side the back" });
    await menu.locator("summary").click();
    await menu.getByLabel("Crew", { exact: true }).selectOption("Birch");
    await menu.getByLabel("Day", { exact: true }).fill("2026-12-07");
    await menu.getByRole("button", { name: "What would it mean?" }).click();
    expect(await page.locator("h2").first().textContent()).toBe("To Birch, Monday 7 December, first");
    expect(placeOf(server, "back")).toBe("alder 2026-12-04");
    await page.getByLabel("Why (for the record)").fill("closer to the yard");
    await page.getByRole("button", { name: "Do it" }).click();
    expect(new URL(page.url()).pathname).toBe("/board/2026-12-07");
    expect(await onPole(page, "birch")).toContain("back");
    expect(placeOf(server, "back")).toBe("birch 2026-12-07");
    expect(complaints).toEqual([]);
  });

  it("a tag leads to its menu", async () => {
    const { page } = await openBoard();
    await pick(page, "back").click();
    const menu = page.locator('.move-list details[data-task="back"]');
    expect(await menu.getAttribute("open")).toBe("");
    expect(await menu.locator("summary").evaluate((element) => element === document.activeElement)).toBe(
      true,
    );
  });

  it("by keyboard: picked up, carried with the arrows, priced where it is, left with Escape and let go with Enter", async () => {
    const { page, server, complaints } = await openBoard();
    await pick(page, "back").focus();
    await page.keyboard.press("Enter");
    await price(page).getByText("Picked up Side the back at 3 Cove Street (Alder).").waitFor();
    await expectSound(page);
    await page.keyboard.press("PageDown");
    await price(page)
      .getByText(/^Alder, Saturday 5 December, \w+: not possible\. Alder has no shift/)
      .waitFor(PATIENT);
    await page.keyboard.press("Enter");
    expect(placeOf(server, "back")).toBe("alder 2026-12-04");
    await page.keyboard.press("Escape");
    await price(page).getByText("Left where it was.").waitFor();
    expect(await pick(page, "back").evaluate((element) => element === document.activeElement)).toBe(true);

    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowRight");
    await price(page)
      .getByText(/^Birch, Friday 4 December, \w+: possible, .* Cost [\d,]+ now, [\d,]+ with it/)
      .waitFor(PATIENT);
    await expectSound(page);
    await page.keyboard.press("Enter");
    await page
      .locator('.pole[data-crew="birch"] .tag[data-task="back"]')
      .first()
      .waitFor({ ...PATIENT, state: "attached" });
    expect(placeOf(server, "back")).toBe("birch 2026-12-04");
    expect(complaints).toEqual([]);
  });

  it("by keyboard up and down: another place in the same day", async () => {
    const { page } = await openBoard();
    const before = await onPole(page, "alder");
    const last = present(before.at(-1), "the last tag");
    await pick(page, last).focus();
    await page.keyboard.press(" ");
    await page.keyboard.press("ArrowUp");
    await price(page)
      .getByText(/: possible/)
      .waitFor(PATIENT);
    await page.keyboard.press(" ");
    await page.waitForLoadState();
    await expect.poll(() => onPole(page, "alder"), PATIENT).not.toEqual(before);
    expect((await onPole(page, "alder")).at(-1)).not.toBe(last);
  });

  it("by pointer: dragged to another pole, priced while it hovers, made when it is let go", async () => {
    const { page, server, complaints } = await openBoard();
    const from = present(await pick(page, "back").boundingBox(), "the tag");
    const to = present(
      await page.locator('.pole[data-crew="birch"] .tag[data-task="trim"] .words').boundingBox(),
      "Birch's tag",
    );
    await page.mouse.move(from.x + 20, from.y + 8);
    await page.mouse.down();
    await page.mouse.move(from.x + 60, from.y + 20);
    await page.mouse.move(to.x + 40, to.y + to.height - 4, { steps: 5 });
    await price(page)
      .getByText(/^Birch, Friday 4 December, last: possible/)
      .waitFor(PATIENT);
    expect(await page.locator('.pole[data-crew="birch"]').getAttribute("class")).toContain("is-target");
    expect(placeOf(server, "back")).toBe("alder 2026-12-04");
    await page.mouse.up();
    await page
      .locator('.pole[data-crew="birch"] .tag[data-task="back"]')
      .first()
      .waitFor({ ...PATIENT, state: "attached" });
    expect(await onPole(page, "birch")).toEqual(["trim", "back"]);
    expect(complaints).toEqual([]);
  });

  it("by pointer: to another day of the strip; a place that a rule forbids is told and nothing is done", async () => {
    const { page, server } = await openBoard();
    const drag = async (date: string): Promise<void> => {
      const from = present(await pick(page, "back").boundingBox(), "the tag");
      await page.mouse.move(from.x + 20, from.y + 8);
      await page.mouse.down();
      await page.mouse.move(from.x + 60, from.y + 20);
      const chip = present(await page.locator(`.day-strip [data-date="${date}"]`).boundingBox(), "the day");
      await page.mouse.move(chip.x + 20, chip.y + 20, { steps: 5 });
    };
    await drag("2026-12-05");
    await price(page).getByText("Alder has no shift on Saturday 5 December.").waitFor(PATIENT);
    await page.mouse.up();
    expect(await page.locator(".ghost").count()).toBe(0);
    expect(placeOf(server, "back")).toBe("alder 2026-12-04");
    await drag("2026-12-07");
    await price(page)
      .getByText(/^Alder, Monday 7 December, first: possible/)
      .waitFor(PATIENT);
    await page.mouse.up();
    await page.waitForURL("**/board/2026-12-07");
    expect(placeOf(server, "back")).toBe("alder 2026-12-07");
  });

  it("work that stays says why when somebody picks it up", async () => {
    const { page } = await openBoard();
    await pick(page, "begun").focus();
    await page.keyboard.press("Enter");
    await price(page).getByText("It is under way with Alder").waitFor();
  });

  it.each([DESK, { width: 390, height: 844 }, { width: 320, height: 640 }])(
    "the board with its menus unfolded, and the page of a move, have no accessibility fault, no small target and nothing sideways (%o)",
    async (viewport) => {
      const { page, server } = await openBoard({ viewport });
      const move = `${server.url}/jobs/harbor-12/tasks/front/move?crew=alder&date=2026-12-07&place=first`;
      for (const url of [page.url(), move]) {
        await page.goto(url);
        await unfold(page);
        await expectUsable(
          page,
          ".moves summary, .moves button, .moves input, .moves select, .day-strip li, main .action, main button",
        );
      }
    },
  );
});
