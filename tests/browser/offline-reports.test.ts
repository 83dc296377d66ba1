/** What a crew says without signal, in a real browser: kept on the phone, shown as waiting, sent once and in order. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { browserAvailable } from "../support/browser.js";
import { ALDER, KEPT_OF_ALDER, startCrewPhone, type CrewPhoneRig } from "../support/crew-phone-rig.js";
import { listKeptPages, PHONE, waitUntilKept } from "../support/crew-phone.js";
import type { CutNetwork } from "../support/cut-network.js";
import { expectUsable } from "../support/page-faults.js";
import { COMMAND_LINE, good } from "../support/people.js";
import { switchOn } from "../support/phone-browser.js";

const SHEET = "/crew/alder/2026-12-03";
const REPORTS = `${SHEET}/report`;
/** A busy machine that runs tests gets time. */
const eventually = <T>(read: () => T) => expect.poll(read, { timeout: 20_000 });

describe.runIf(browserAvailable())("in a browser", () => {
  let rig: CrewPhoneRig;
  let network: CutNetwork;
  let link: string;
  /** Of a phone that has opened the crew's link once, and keeps its pages; there is signal. */
  let page: Page;
  /** What the server has of the tests before. */
  let before: { readonly reports: string; readonly photos: string };

  beforeAll(async () => {
    rig = await startCrewPhone("2026-12-03T06:30");
    ({ network, link } = rig);
  });
  beforeEach(async () => {
    network.be("there");
    const [row] = await rig.app.database.query<{ reports: string; photos: string }>(
      `select coalesce((select max(id) from site_report), 0)::text as reports,
         coalesce((select max(id) from photo), 0)::text as photos`,
    );
    before = row ?? { reports: "0", photos: "0" };
    page = await rig.phone.newPage();
  });
  afterEach(async () => {
    // What one test leaves behind is not said again in the next.
    for (const left of rig.phone.pages()) {
      await left.evaluate(forget).catch(() => undefined);
      await left.close();
    }
  });
  afterAll(() => rig.close());

  const forget = (): Promise<unknown> =>
    new Promise((resolve) => {
      const asked = indexedDB.deleteDatabase("daylap-said");
      asked.addEventListener("success", resolve);
      asked.addEventListener("error", resolve);
    });

  const open = (path: string, on = page) => on.goto(network.url + path);

  /** What has come to the server in this test, in the order in which it came. */
  async function listTaken(): Promise<readonly string[]> {
    const rows = await rig.app.database.query<{ kind: string; task_id: string | null; hours: string | null }>(
      "select kind, task_id, body->>'hours' as hours from site_report where id > $1 order by id",
      [before.reports],
    );
    return rows.map(({ kind, task_id: task, hours }) => [kind, task, hours].filter(Boolean).join(" "));
  }

  const said = () => page.locator(".said li");
  /** The texts of what is shown as not with the office yet. */
  const listWaiting = (on = page): Promise<readonly string[]> =>
    on.locator(".said li:not(.said-taken) strong").allInnerTexts();
  const untilWaiting = (count: number, on = page): Promise<void> =>
    eventually(() => listWaiting(on)).toHaveLength(count);
  const untilSent = (on = page): Promise<void> => untilWaiting(0, on);

  /** As a phone does that has found a network. */
  const tellOnline = (on = page): Promise<unknown> =>
    on.evaluate(() => window.dispatchEvent(new Event("online")));
  async function goOnline(on = page): Promise<void> {
    network.be("there");
    await tellOnline(on);
  }

  /** "Trim" is under way, "Side the front" comes after it. */
  const taskOf = (title: string, on = page) =>
    on.locator(".report-tasks > li").filter({ has: on.getByRole("heading", { name: title }) });
  const unfold = (what: "hours-left" | "damage") =>
    taskOf("Trim").locator(`details[id^=${what}] > summary`).click();
  async function sayHours(hours: string): Promise<void> {
    const form = taskOf("Trim").locator("form.typed");
    if (!(await form.isVisible())) await unfold("hours-left");
    await form.locator("input[name=hours]").fill(hours);
    await form.getByRole("button").click();
    // Said, it folds itself up again.
    await form.waitFor({ state: "hidden" });
  }

  async function aPhoto(width: number, height: number): Promise<Buffer> {
    return sharp({ create: { width, height, channels: 3, background: "#86602f" } })
      .jpeg()
      .withExifMerge({ IFD3: { GPSLatitudeRef: "N", GPSLatitude: "43/1 50/1 0/1" } })
      .toBuffer();
  }
  const choose = async (input: ReturnType<Page["locator"]>, width: number, height: number): Promise<void> =>
    input.setInputFiles({ name: "IMG_1.jpg", mimeType: "image/jpeg", buffer: await aPhoto(width, height) });
  /** Photos that have come to the server in this test, in the order in which they came. */
  const listPhotos = () =>
    rig.app.database.query<{ job: string; task: string | null; report: string | null; size: string }>(
      `select job_id as job, task_id as task, report_key as report, width || ' x ' || height as size
       from photo where id > $1 order by id`,
      [before.photos],
    );

  it("the page for reports opens without signal; what is said there waits, and is sent once and in order", async () => {
    network.be("away");
    await open(REPORTS);
    expect(await page.locator(".kept-notice").isVisible()).toBe(true);
    await taskOf("Side the front")
      .getByRole("button", { name: /^Start/ })
      .click();
    await untilWaiting(1);
    await sayHours("2");
    await untilWaiting(2);
    await sayHours("1.5");
    await untilWaiting(3);
    expect(await listWaiting()).toEqual([
      "Start: Side the front, 12 Harbor Road",
      "Hours left: Trim, 12 Harbor Road · 2",
      "Hours left: Trim, 12 Harbor Road · 1.5",
    ]);
    expect(await page.locator(".said h2").innerText()).toBe("Not with the office yet: 3");
    await expectUsable(page, ".offline button, .offline a, main button, main summary", "fieldset input");
    // It is shown on the sheet too, and there after the page was closed.
    await open(SHEET);
    await untilWaiting(3);
    expect(await listTaken()).toEqual([]);
    await goOnline();
    await untilSent();
    expect(await listTaken()).toEqual(["start t1", "hours-left t2 2", "hours-left t2 1.5"]);
    // Where the thumb is, whatever part of the page is in sight.
    expect(await page.locator(".told").innerText()).toMatch(/ · 1\.5\. The office has it\.$/);
  });

  it("in Spanish too", async () => {
    network.be("away");
    await open(`${REPORTS}?lang=es`);
    await sayHours("3");
    await untilWaiting(1);
    expect(await page.locator(".said h2").innerText()).toBe("Aún no llega a la oficina: 1");
    expect(await page.locator(".said .said-state").innerText()).toBe("Por mandar.");
    const sending = rig.phone.waitForEvent("request", (request) => request.method() === "POST");
    await goOnline();
    const sent = new URLSearchParams((await sending).postData() ?? "");
    await untilSent();
    // The clock of the phone is off by whatever there is between today and the day of this test.
    const [at] = await rig.app.database.query<{ minutes: number }>(
      "select (extract(epoch from received_at - said_at) / 60)::int as minutes from site_report order by id desc limit 1",
    );
    const ms = (name: string): number => Date.parse(sent.get(name) ?? "");
    expect(at?.minutes).toBe(Math.floor((ms("sentAt") - ms("saidAt")) / 60_000));
    expect(await page.locator(".said h2").innerText()).toBe("La oficina ya tiene todo");
    expect(await listTaken()).toEqual(["hours-left t2 3"]);
  });

  it("what waits outlives an empty battery, and is sent when the phone is on again", async () => {
    const folder = await mkdtemp(join(tmpdir(), "daylap-phone-"));
    const turnOn = () => switchOn(folder);
    let own = await turnOn();
    try {
      await own.page.goto(link);
      await waitUntilKept(own.page, KEPT_OF_ALDER);
      // The link was opened some time ago: by now the browser has written its cookie down.
      await own.close();
      own = await turnOn();
      page = own.page;
      await open(REPORTS);
      network.be("away");
      await sayHours("3");
      await untilWaiting(1);
      await own.switchOff();
      own = await turnOn();
      page = own.page;
      await open(REPORTS);
      await untilWaiting(1);
      network.be("there");
      await page.reload();
      await untilSent();
      expect(await listTaken()).toEqual(["hours-left t2 3"]);
    } finally {
      await own.switchOff();
      await rm(folder, { recursive: true, force: true, maxRetries: 5 });
    }
  });

  it("a thumb that touches the button twice says it once", async () => {
    await open(REPORTS);
    await unfold("hours-left");
    await taskOf("Trim").locator("form.typed input[name=hours]").fill("2");
    await taskOf("Trim").locator("form.typed button").dblclick();
    await page
      .locator("#day")
      .getByRole("button", { name: /^We want to work to last light/ })
      .dblclick();
    await eventually(listTaken).toHaveLength(2);
    // One after another: had anything been said twice, it would have come before this.
    await sayHours("1");
    await eventually(listTaken).toContain("hours-left t2 1");
    expect(await listTaken()).toEqual(["hours-left t2 2", "stretch", "hours-left t2 1"]);
  });

  it("two open pages send nothing twice", async () => {
    await open(REPORTS);
    network.be("away");
    for (const hours of ["1", "2", "3", "4"]) await sayHours(hours);
    await untilWaiting(4);
    const other = await rig.phone.newPage();
    await open(REPORTS, other);
    await untilWaiting(4, other);
    network.be("there");
    await Promise.all([page, other].map((each) => tellOnline(each)));
    await Promise.all([page, other].map((each) => untilSent(each)));
    expect(await listTaken()).toEqual(["1", "2", "3", "4"].map((hours) => `hours-left t2 ${hours}`));
    await other.close();
  });

  it("what the office refuses stays with its sentence until it is taken back, and stops nothing behind it", async () => {
    await open(REPORTS);
    await sayHours("many");
    await page.locator(".said-refused").waitFor();
    await sayHours("2");
    await eventually(listTaken).toEqual(["hours-left t2 2"]);
    expect(await page.locator(".said-refused .said-state").innerText()).toMatch(/hours/i);
    for (const width of [PHONE.viewport.width, 320]) {
      await page.setViewportSize({ width, height: PHONE.viewport.height });
      await expectUsable(page, ".offline button, .offline a", "fieldset input");
    }
    await page.reload();
    await page.locator(".said-refused").waitFor();
    await page.getByRole("button", { name: "Take it back" }).click();
    await eventually(() => said().count()).toBe(0);
    expect(await listTaken()).toEqual(["hours-left t2 2"]);
  });

  it("a network that answers everything itself takes nothing", async () => {
    await open(REPORTS);
    network.fail(200, "<h1>Welcome to the cafe</h1>");
    await sayHours("2");
    await eventually(() => network.countFailedForms()).toBeGreaterThan(0);
    const before503 = network.countFailedForms();
    network.fail(503, "<h1>Not at the moment</h1>");
    await tellOnline();
    await eventually(() => network.countFailedForms()).toBeGreaterThan(before503);
    await untilWaiting(1);
    await goOnline();
    await untilSent();
    expect(await listTaken()).toEqual(["hours-left t2 2"]);
  });

  it("what the server stumbles over again and again stays, and no longer keeps back what comes behind it", async () => {
    await open(REPORTS);
    network.fail(500, "<h1>Something went wrong</h1>");
    await sayHours("2");
    const isRefused = async (): Promise<number> => {
      await tellOnline();
      return page.locator(".said-refused").count();
    };
    await eventually(isRefused).toBe(1);
    expect(await page.locator(".said-refused .said-state").innerText()).toBe(
      "The office could not take this.",
    );
    network.be("there");
    await sayHours("1");
    await eventually(listTaken).toEqual(["hours-left t2 1"]);
    await page.getByRole("button", { name: "Send it again" }).click();
    await untilSent();
    expect(await listTaken()).toEqual(["hours-left t2 1", "hours-left t2 2"]);
  });

  it("a photo of damage is made smaller, waits behind its report, and comes once", async () => {
    await open(REPORTS);
    network.be("away");
    await unfold("damage");
    const form = taskOf("Trim").locator("details[id^=damage] form");
    await form.locator("input[name=area]").fill("west wall");
    await choose(form.getByLabel("Photos of it"), 3200, 2400);
    await form.locator("button").click();
    await untilWaiting(2);
    expect((await listWaiting())[1]).toMatch(/^Photo: /);
    const lost = network.countLostAnswers();
    network.be("lossy");
    await tellOnline();
    await eventually(() => network.countLostAnswers()).toBeGreaterThan(lost);
    await goOnline();
    await untilSent();
    expect(await listTaken()).toEqual(["damage t2"]);
    const [report] = await rig.app.database.query<{ key: string }>(
      "select key from site_report order by id desc limit 1",
    );
    expect(await listPhotos()).toEqual([
      { job: "harbor-12", task: "t2", report: report?.key, size: "1600 x 1200" },
    ]);
  });

  it("photos of the page for photos are made smaller, wait, and come once and in order", async () => {
    await open(SHEET);
    await page.getByRole("link", { name: "Send a photo" }).click();
    network.be("away");
    const send = async (width: number, height: number): Promise<void> => {
      await choose(page.locator(".photo-form input[type=file]"), width, height);
      await page.getByRole("button", { name: "Send the photo" }).click();
    };
    await send(3200, 2400);
    await untilWaiting(1);
    expect(await page.locator(".told").innerText()).toMatch(/^Kept on this phone at/);
    // The copy of the page does not know what its address asks for; a photo goes to its report and its task all the same.
    const report = "5c1f0a2e-6a0b-4a57-9d6e-0a9a3a8f6f11";
    await open(`/crew/alder/photos?report=${report}&job=harbor-12%2Ft2&date=2026-12-03`);
    expect(await page.locator(".kept-notice").count()).toBe(1);
    await send(400, 300);
    await untilWaiting(2);
    expect(await listWaiting()).toEqual([
      "Photo: 12 Harbor Road: Side the front",
      "Photo: 12 Harbor Road: Trim",
    ]);
    await expectUsable(
      page,
      ".offline button, main button, main select, main input:not([type=hidden]), main a",
    );
    const lost = network.countLostAnswers();
    network.be("lossy");
    await tellOnline();
    await eventually(() => network.countLostAnswers()).toBeGreaterThan(lost);
    expect(await listWaiting()).toHaveLength(2);
    await goOnline();
    await untilSent();
    expect(await listPhotos()).toEqual([
      { job: "harbor-12", task: "t1", report: null, size: "1600 x 1200" },
      { job: "harbor-12", task: "t2", report, size: "400 x 300" },
    ]);
    // And the page shows them among those that were sent.
    await eventually(() => page.locator(".photos img").count()).toBe(2);
  });

  it("a photo by itself waits on the page for reports as well", async () => {
    network.be("away");
    await open(REPORTS);
    const form = page.locator("form.photo-form");
    await choose(form.locator("input[type=file]"), 40, 30);
    await form.locator("button").click();
    await eventually(() => listWaiting()).toEqual(["Photo: 12 Harbor Road: Side the front"]);
    await goOnline();
    await untilSent();
    expect(await listPhotos()).toMatchObject([{ job: "harbor-12", task: "t1", size: "40 x 30" }]);
  });

  it("where the link is taken back the pages go, and what was said stays with a sentence until a new link is opened", async () => {
    await open(REPORTS);
    good(await rig.people.revokePrivateLink("crew", ALDER, COMMAND_LINE));
    await sayHours("2");
    await page.locator(".said-closed").waitFor();
    expect(await page.locator(".said-closed .said-state").innerText()).toMatch(
      /^Your link opens nothing any more\. This stays on the phone/,
    );
    await eventually(() => listKeptPages(page)).toEqual([]);
    expect(await page.locator("main").innerText()).toBe("");
    await page.reload();
    expect(await page.getByRole("main").innerText()).toContain("This link opens nothing any more");
    expect(await listTaken()).toEqual([]);
    link = `${network.url}/link/${good(await rig.people.makePrivateLink("crew", ALDER, COMMAND_LINE))}`;
    await page.goto(link);
    await untilSent();
    await eventually(listTaken).toEqual(["hours-left t2 2"]);
  });

  it("with script off the forms do the same while there is signal", async () => {
    const context = await rig.browser.newContext({ ...PHONE, javaScriptEnabled: false });
    const plain = await context.newPage();
    await plain.goto(link);
    await open(REPORTS, plain);
    await taskOf("Trim", plain).getByRole("button", { name: /^Done/ }).click();
    expect(await listTaken()).toEqual(["done t2"]);
    expect(await plain.locator("#taken").innerText()).toContain("Trim");
    expect(await plain.getByLabel("Photos of it").count()).toBe(0);
    await context.close();
  });
});
