/** What a crew says without signal, in a real browser: kept on the phone, shown as waiting, sent once and in order. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import sharp from "sharp";
import { afterEach, describe, expect, it } from "vitest";
import { makeFixedClock } from "../../src/services/clock.js";
import { openPeople } from "../../src/services/people.js";
import { openPhotos } from "../../src/services/photos.js";
import { openRecord } from "../../src/services/record.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { listKeptPages, PHONE, waitUntilKept } from "../support/crew-phone.js";
import { startCutNetwork } from "../support/cut-network.js";
import { useDesks } from "../support/desk.js";
import { expectUsable } from "../support/page-faults.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { switchOn } from "../support/phone-browser.js";
import { AFTERNOON, EDITED_COMPANY } from "../web/editing.js";
import { startAppWith } from "../web/running-app.js";

const ALDER = { id: "alder", name: "Alder" };
const SHEETS = ["/crew/alder/2026-12-03", "/crew/alder/2026-12-04"];
const REPORTS = SHEETS.map((path) => `${path}/report`);
/** A busy machine that runs tests gets time. */
const eventually = <T>(read: () => T) => expect.poll(read, { timeout: 20_000 });
const [, TOMORROW = ""] = REPORTS;

describe.runIf(browserAvailable())("in a browser", () => {
  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
  const closings: (() => Promise<unknown>)[] = [];
  afterEach(async () => {
    for (const close of closings.splice(0).toReversed()) await close();
  });

  /** The app, and a phone that has opened the crew's link. */
  async function start(language: "en" | "es" = "en") {
    const desk = await desks.open(EDITED_COMPANY);
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP });
    const services = {
      desk,
      people,
      record: openRecord(database),
      photos: openPhotos(database),
      reports: openSiteReports(database),
    };
    const app = await startAppWith(services, { clock: makeFixedClock(AFTERNOON) });
    closings.push(() => app.close());
    const network = await startCutNetwork(app.url);
    closings.push(() => network.close());
    const folder = await mkdtemp(join(tmpdir(), "daylap-phone-"));
    closings.push(() => rm(folder, { recursive: true, force: true, maxRetries: 5 }));
    const link = good(await people.makePrivateLink("crew", ALDER, COMMAND_LINE));
    const phone = await turnOn(folder);
    const asks = language === "es" ? "?lang=es" : "";
    await phone.page.goto(`${network.url}/link/${link}${asks}`);
    await waitUntilKept(phone.page, [...SHEETS, ...REPORTS]);
    await phone.page.goto(`${network.url}${TOMORROW}${asks}`);
    /** What the server has, in the order in which it came. */
    const listTaken = async (): Promise<readonly string[]> => {
      const rows = await database.query<{ kind: string; task_id: string | null; hours: string | null }>(
        "select kind, task_id, body->>'hours' as hours from site_report order by id",
      );
      return rows.map(({ kind, task_id: task, hours }) => [kind, task, hours].filter(Boolean).join(" "));
    };
    return { desk, database, people, network, folder, phone, page: phone.page, listTaken };
  }

  async function turnOn(folder: string) {
    const phone = await switchOn(folder);
    closings.push(() => phone.switchOff());
    await phone.page.setViewportSize(PHONE.viewport);
    return phone;
  }

  const said = (page: Page) => page.locator(".said li");
  /** The texts of what is shown as not with the office yet. */
  const listWaiting = (page: Page): Promise<readonly string[]> =>
    page.locator(".said li:not(.said-taken) strong").allInnerTexts();
  const isOffline = (page: Page) => page.locator(".kept-notice");

  async function goOnline(page: Page, network: { be(network: "there"): void }): Promise<void> {
    network.be("there");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
  }
  const untilSent = (page: Page): Promise<void> => eventually(() => listWaiting(page)).toEqual([]);

  /** "Trim" is under way, "Side the front" is tomorrow's work. */
  const sayStart = (page: Page): Promise<void> =>
    page
      .locator("#task-2")
      .getByRole("button", { name: /^(Start|Empezar|Comenzar|Inicio)/ })
      .click();
  async function sayHours(page: Page, hours: string): Promise<void> {
    const form = page.locator("#task-1 form.typed");
    if (!(await form.isVisible())) await page.locator("#hours-left-1-more summary").click();
    await form.locator("input[name=hours]").fill(hours);
    await form.getByRole("button").click();
  }

  it("the page for reports opens without signal; what is said there waits, and is sent once and in order", async () => {
    const { page, network, listTaken } = await start();
    network.be("away");
    await page.reload();
    expect(await isOffline(page).isVisible()).toBe(true);
    await sayStart(page);
    await eventually(() => said(page).count()).toBe(1);
    await sayHours(page, "2");
    await eventually(() => said(page).count()).toBe(2);
    await sayHours(page, "1.5");
    await eventually(() => said(page).count()).toBe(3);
    expect(await listWaiting(page)).toEqual([
      "Start: Side the front, 12 Harbor Road",
      "Hours left: Trim, 12 Harbor Road · 2",
      "Hours left: Trim, 12 Harbor Road · 1.5",
    ]);
    expect(await page.locator(".said h2").innerText()).toBe("Not with the office yet: 3");
    await expectUsable(page, ".offline button, .offline a, main button, main summary", "fieldset input");
    // It is shown on the sheet too, and there after the page was closed.
    await page.goto(new URL(SHEETS[1] ?? "", page.url()).href);
    expect(await listWaiting(page)).toHaveLength(3);
    expect(await listTaken()).toEqual([]);
    await goOnline(page, network);
    await untilSent(page);
    expect(await listTaken()).toEqual(["start t1", "hours-left t2 2", "hours-left t2 1.5"]);
  });

  it("in Spanish too", async () => {
    const { page, network, listTaken } = await start("es");
    network.be("away");
    await page.reload();
    await sayHours(page, "3");
    await eventually(() => said(page).count()).toBe(1);
    expect(await page.locator(".said h2").innerText()).toBe("Aún no llega a la oficina: 1");
    expect(await page.locator(".said .said-state").innerText()).toBe("Por mandar.");
    await goOnline(page, network);
    await untilSent(page);
    expect(await page.locator(".said h2").innerText()).toBe("La oficina ya tiene todo");
    expect(await listTaken()).toEqual(["hours-left t2 3"]);
  });

  it("what waits outlives an empty battery, and is sent when the phone is on again", async () => {
    const { folder, phone: before, page: sheet, network, listTaken } = await start();
    const address = sheet.url();
    // The link was opened some time ago: by now the browser has written its cookie down.
    await before.close();
    const phone = await turnOn(folder);
    await phone.page.goto(address);
    network.be("away");
    await sayHours(phone.page, "3");
    await eventually(() => said(phone.page).count()).toBe(1);
    await phone.switchOff();
    const { page: again } = await turnOn(folder);
    await again.goto(address);
    await eventually(() => listWaiting(again)).toHaveLength(1);
    network.be("there");
    await again.reload();
    await untilSent(again);
    expect(await listTaken()).toEqual(["hours-left t2 3"]);
  });

  it("a thumb that touches the button twice says it once", async () => {
    const { page, listTaken } = await start();
    await page.locator("#hours-left-1-more summary").click();
    await page.locator("#task-1 form.typed input[name=hours]").fill("2");
    await page.locator("#task-1 form.typed button").dblclick();
    await page
      .locator("#task-2")
      .getByRole("button", { name: /^Start/ })
      .dblclick();
    await eventually(listTaken).toHaveLength(2);
    await page.waitForTimeout(1000);
    expect(await listTaken()).toEqual(["hours-left t2 2", "start t1"]);
  });

  it("two open pages send nothing twice", async () => {
    const { page, network, listTaken } = await start();
    network.be("away");
    for (const hours of ["1", "2", "3", "4"]) await sayHours(page, hours);
    await eventually(() => said(page).count()).toBe(4);
    const other = await page.context().newPage();
    await other.goto(page.url());
    await eventually(() => listWaiting(other)).toHaveLength(4);
    network.be("there");
    await Promise.all([page, other].map((each) => goOnline(each, network)));
    await Promise.all([page, other].map(untilSent));
    expect(await listTaken()).toEqual(["1", "2", "3", "4"].map((hours) => `hours-left t2 ${hours}`));
  });

  it("what the office refuses stays with its sentence until it is taken back, and stops nothing behind it", async () => {
    const { page, listTaken } = await start();
    await sayHours(page, "many");
    await page.locator(".said-refused").waitFor();
    await sayHours(page, "2");
    await eventually(listTaken).toEqual(["hours-left t2 2"]);
    expect(await page.locator(".said-refused .said-state").innerText()).toMatch(/hours/i);
    for (const width of [PHONE.viewport.width, 320]) {
      await page.setViewportSize({ width, height: PHONE.viewport.height });
      await expectUsable(page, ".offline button, .offline a", "fieldset input");
    }
    await page.reload();
    await page.locator(".said-refused").waitFor();
    await page.getByRole("button", { name: "Take it back" }).click();
    await eventually(() => said(page).count()).toBe(0);
    expect(await listTaken()).toEqual(["hours-left t2 2"]);
  });

  it("a network that answers everything itself takes nothing", async () => {
    const { page, network, listTaken } = await start();
    network.fail(200, "<h1>Welcome to the cafe</h1>");
    await sayHours(page, "2");
    await page.waitForTimeout(2500);
    expect(await listWaiting(page)).toHaveLength(1);
    network.fail(503, "<h1>Not at the moment</h1>");
    await page.waitForTimeout(2500);
    expect(await listWaiting(page)).toHaveLength(1);
    await goOnline(page, network);
    await untilSent(page);
    expect(await listTaken()).toEqual(["hours-left t2 2"]);
  });

  it("what the server stumbles over again and again stays, and no longer keeps back what comes behind it", async () => {
    const { page, network, listTaken } = await start();
    network.fail(500, "<h1>Something went wrong</h1>");
    await sayHours(page, "2");
    const isRefused = async (): Promise<number> => {
      await page.evaluate(() => window.dispatchEvent(new Event("online")));
      return page.locator(".said-refused").count();
    };
    await eventually(isRefused).toBe(1);
    expect(await page.locator(".said-refused .said-state").innerText()).toBe(
      "The office could not take this.",
    );
    network.be("there");
    await sayHours(page, "1");
    await eventually(listTaken).toEqual(["hours-left t2 1"]);
    await page.getByRole("button", { name: "Send it again" }).click();
    await untilSent(page);
    expect(await listTaken()).toEqual(["hours-left t2 1", "hours-left t2 2"]);
  });

  it("a photo of damage is made smaller, waits behind its report, and comes once", async () => {
    const { page, network, database, listTaken } = await start();
    network.be("away");
    await page.locator("#damage-1-more summary").click();
    const form = page.locator("#damage-1-more form");
    await form.locator("input[name=area]").fill("west wall");
    const photo = await sharp({ create: { width: 3200, height: 2400, channels: 3, background: "#86602f" } })
      .jpeg()
      .withExifMerge({ IFD3: { GPSLatitudeRef: "N", GPSLatitude: "43/1 50/1 0/1" } })
      .toBuffer();
    await form
      .getByLabel("Photos of it")
      .setInputFiles({ name: "IMG_1.jpg", mimeType: "image/jpeg", buffer: photo });
    await form.locator("button").click();
    await eventually(() => said(page).count()).toBe(2);
    expect((await listWaiting(page))[1]).toMatch(/^Photo: /);
    network.be("lossy");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.waitForTimeout(2500);
    await goOnline(page, network);
    await untilSent(page);
    expect(await listTaken()).toEqual(["damage t2"]);
    const rows = await database.query<{ width: number; height: number; is_its: boolean; bytes: Buffer }>(
      "select width, height, bytes, report_key = (select key from site_report) as is_its from photo",
    );
    expect(rows.map(({ width, height, is_its: isIts }) => ({ width, height, isIts }))).toEqual([
      { width: 1600, height: 1200, isIts: true },
    ]);
  });

  it("a photo by itself waits as well", async () => {
    const { page, network, database } = await start();
    network.be("away");
    await page.reload();
    const photo = await sharp({ create: { width: 40, height: 30, channels: 3, background: "#86602f" } })
      .png()
      .toBuffer();
    const form = page.locator("form.photo-form");
    await form
      .locator("input[type=file]")
      .setInputFiles({ name: "wall.png", mimeType: "image/png", buffer: photo });
    await form.locator("button").click();
    await eventually(() => listWaiting(page)).toEqual(["Photo: 12 Harbor Road: Side the front"]);
    await goOnline(page, network);
    await untilSent(page);
    const rows = await database.query<{ job_id: string; task_id: string; width: number }>(
      "select job_id, task_id, width from photo",
    );
    expect(rows).toEqual([{ job_id: "harbor-12", task_id: "t1", width: 40 }]);
  });

  it("where the link is taken back the pages go, and what was said stays with a sentence until a new link is opened", async () => {
    const { page, people, network, listTaken } = await start();
    good(await people.revokePrivateLink("crew", ALDER, COMMAND_LINE));
    await sayHours(page, "2");
    await page.locator(".said-closed").waitFor();
    expect(await page.locator(".said-closed .said-state").innerText()).toMatch(
      /^Your link opens nothing any more\. This stays on the phone/,
    );
    await eventually(() => listKeptPages(page)).toEqual([]);
    await page.reload();
    expect(await page.getByRole("main").innerText()).toContain("This link opens nothing any more");
    expect(await listTaken()).toEqual([]);
    const link = good(await people.makePrivateLink("crew", ALDER, COMMAND_LINE));
    await page.goto(`${network.url}/link/${link}`);
    await untilSent(page);
    await eventually(listTaken).toEqual(["hours-left t2 2"]);
  });

  it("with script off the forms do the same while there is signal", async () => {
    const { network, people, listTaken } = await start();
    const browser = await openBrowser();
    closings.push(() => browser.close());
    const page = await browser.newPage({ ...PHONE, javaScriptEnabled: false });
    const link = good(await people.renewPrivateLink("crew", ALDER, COMMAND_LINE));
    await page.goto(`${network.url}/link/${link}`);
    await page.goto(`${network.url}${TOMORROW}`);
    await sayStart(page);
    expect(await listTaken()).toEqual(["start t1"]);
    expect(await page.locator("#taken").innerText()).toContain("Side the front");
    expect(await page.getByLabel("Photos of it").count()).toBe(0);
  });
});
