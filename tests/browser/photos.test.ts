/** A photo's way in a real browser: from a crew's phone without script to the house's page in the office. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { openPeople } from "../../src/services/people.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { expectUsable } from "../support/page-faults.js";
import { CHEAP, COMMAND_LINE, good, makeMember } from "../support/people.js";
import { aPhotoWithPlace } from "../support/photos.js";
import { startDemoServer, type TestServer } from "../support/server.js";

const PHONE = { width: 390, height: 844 };
const SMALL_PHONE = { width: 320, height: 640 };
const DESK = { width: 1280, height: 900 };
const CONTROLS = "main button, main select, main input:not([type=hidden]), main .photos a, main .action";

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  let app: TestServer;
  let folder: string;
  let link: string;
  let session: string;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    [browser, app] = await Promise.all([openBrowser(), startDemoServer("2026-12-07T15:10", {})]);
    folder = await mkdtemp(join(tmpdir(), "daylap-photos-"));
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
    await rm(folder, { recursive: true, force: true });
  });

  async function openPage(options: BrowserContextOptions): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  async function openOffice(): Promise<Page> {
    const page = await openPage({ viewport: DESK });
    await page.context().addCookies([{ name: "daylap-session", value: session, url: app.url }]);
    return page;
  }

  /** Whether the browser itself has been able to show every picture of the page. */
  const showsPictures = (page: Page): Promise<boolean> =>
    page.evaluate(() =>
      [...document.querySelectorAll<HTMLImageElement>(".photos img")].every(
        ({ complete, naturalWidth }) => complete && naturalWidth > 0,
      ),
    );

  it("a crew sends a photo from its phone without script, and the office sees it at its house", async () => {
    const path = join(folder, "IMG_0001.jpg");
    await writeFile(path, await aPhotoWithPlace({ width: 1600, height: 1200, orientation: 6 }));
    const phone = await openPage({
      viewport: PHONE,
      javaScriptEnabled: false,
      hasTouch: true,
      isMobile: true,
    });
    await phone.goto(`${app.url}/link/${link}`);
    await phone.getByRole("link", { name: "Send a photo" }).tap();
    const choice = phone.getByLabel("What it shows");
    const chosen = (await choice.locator("option").first().textContent()) ?? "";
    await phone.getByLabel("Photo (JPEG, PNG or WebP)").setInputFiles(path);
    await phone.getByRole("button", { name: "Send the photo" }).tap();
    await phone.getByText("The photo is with the office.").waitFor();
    expect(await phone.getByRole("img", { name: chosen }).count()).toBe(1);

    const office = await openOffice();
    await office.goto(`${app.url}/jobs`);
    const [house = ""] = chosen.split(":");
    await office.getByRole("link", { name: house }).first().click();
    const picture = office.getByRole("img", { name: chosen });
    await picture.scrollIntoViewIfNeeded();
    await expect.poll(() => showsPictures(office), { timeout: 20_000 }).toBe(true);
    await expectUsable(office, "main .photos a");
    await office.goto(`${app.url}/record`);
    await office.getByRole("img", { name: chosen }).click();
    // The whole picture, upright: the phone was held that way.
    const size = await office.evaluate(() => {
      const image = document.querySelector("img");
      return [image?.naturalWidth, image?.naturalHeight];
    });
    expect(size).toEqual([1200, 1600]);
  });

  it.each([
    ["en", "This is a PDF and no photo."],
    ["es", "Es un PDF y no una foto."],
  ])(
    "a file that is no photo comes back on a page that says so, on the smallest phone (%s)",
    async (lang, sentence) => {
      const path = join(folder, "estimate.jpg");
      await writeFile(path, "%PDF-1.7\n");
      const phone = await openPage({ viewport: SMALL_PHONE, javaScriptEnabled: false });
      await phone.goto(`${app.url}/link/${link}`);
      await phone.goto(`${app.url}/crew/alder/photos?date=2026-12-08&lang=${lang}`);
      await phone.locator("input[type=file]").setInputFiles(path);
      await phone.locator("main button").click();
      await phone.getByRole("alert").getByText(sentence).waitFor();
      expect(await phone.locator("html").getAttribute("lang")).toBe(lang);
    },
  );

  it("a photo of 50 MB comes back on a page that says so: the connection is not cut in the browser's face", async () => {
    const path = join(folder, "huge.jpg");
    await writeFile(path, Buffer.alloc(50 * 1024 * 1024, 1));
    const phone = await openPage({ viewport: PHONE, javaScriptEnabled: false });
    await phone.goto(`${app.url}/link/${link}`);
    await phone.goto(`${app.url}/crew/alder/photos?date=2026-12-08`);
    await phone.locator("input[type=file]").setInputFiles(path);
    await phone.locator("main button").click();
    await phone.getByRole("alert").getByText("larger than 10 MB").waitFor();
  });

  it("a crew sends a photo from the page for reports, without script", async () => {
    const path = join(folder, "IMG_0002.jpg");
    await writeFile(path, await aPhotoWithPlace({ width: 400, height: 300 }));
    const phone = await openPage({ viewport: SMALL_PHONE, javaScriptEnabled: false });
    await phone.goto(`${app.url}/link/${link}`);
    await phone.goto(`${app.url}/crew/alder/2026-12-08/report`);
    await phone.locator("#photo input[type=file]").setInputFiles(path);
    await phone.locator("#photo button").click();
    await phone.getByText("The photo is with the office.").waitFor();
    await phone.getByRole("link", { name: "To the reports" }).click();
    expect(new URL(phone.url()).pathname).toBe("/crew/alder/2026-12-08/report");
  });

  it.each([
    "/crew/alder/photos?date=2026-12-08",
    "/crew/alder/photos?date=2026-12-08&lang=es",
    "/crew/alder/2026-12-08/report",
  ])("%s is usable on the smallest phone", async (path) => {
    const phone = await openPage({ viewport: SMALL_PHONE });
    await phone.goto(`${app.url}/link/${link}`);
    await phone.goto(app.url + path);
    await expectUsable(phone, CONTROLS);
  });
});
