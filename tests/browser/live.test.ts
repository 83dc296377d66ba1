/** Open pages in a real browser: they follow a change by themselves, never under somebody who types, and say when they are alone. */
import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { makeFixedClock } from "../../src/services/clock.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { createApp } from "../../src/web/app.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { AFTERNOON, EDITED_COMPANY } from "../web/editing.js";
import { TEST_OWNER } from "../web/running-app.js";
import { listAccessFaults } from "../support/page-faults.js";

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };
const hold = (why: string) =>
  ({
    kind: "hold-added",
    input: { from: "2026-12-04T06:00", to: "2026-12-04T12:00", trades: "all", jobs: "all", why },
  }) as const;

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
  const contexts: BrowserContext[] = [];
  const servers: Server[] = [];
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    for (const server of servers.splice(0)) await stop(server);
  });

  /** The app of the office, which signs in by itself, and that of the phones, at two desks of one company. */
  async function start() {
    const desk = await desks.open(EDITED_COMPANY);
    const phoneDesk = await desks.open();
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP });
    const options = { clock: makeFixedClock(AFTERNOON) };
    const services = { people, record: openRecord(database) };
    const office = await listen(createApp({ desk, ...services }, { ...options, automatic: TEST_OWNER }));
    const phones = await listen(createApp({ desk: phoneDesk, ...services }, options));
    return { desk, people, office, phones };
  }

  async function listen(app: RequestListener, port = 0): Promise<Server & { url: string }> {
    const server = createServer(app);
    await new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
    servers.push(server);
    // A server that listens on a port has an address with a port.
    return Object.assign(server, { url: `http://127.0.0.1:${(server.address() as AddressInfo).port}` });
  }

  async function stop(server: Server): Promise<void> {
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeAllConnections();
    await closed;
  }

  async function openPage(options: BrowserContextOptions = { viewport: DESK }): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    const page = await context.newPage();
    await page.addInitScript(() => {
      // A page that was loaded anew has forgotten this.
      Object.assign(window, { isSamePage: undefined });
    });
    return page;
  }

  const mark = (page: Page): Promise<void> =>
    page.evaluate(() => void Object.assign(window, { isSamePage: true }));
  const isSamePage = (page: Page): Promise<boolean> =>
    page.evaluate(() => (window as unknown as { isSamePage?: boolean }).isSamePage === true);
  /** The page's stream is open: what happens from now on it hears of. */
  const opened = (page: Page, url: string): Promise<unknown> =>
    Promise.all([page.waitForResponse((response) => response.url().endsWith("/live")), page.goto(url)]);

  it("the board and a crew's phone follow a change within two seconds without being loaded anew", async () => {
    const { desk, people, office, phones } = await start();
    const [board, phone] = [await openPage(), await openPage({ viewport: PHONE })];
    const complaints: string[] = [];
    for (const page of [board, phone]) {
      page.on("console", (message) => complaints.push(message.text()));
      page.on("pageerror", (error) => complaints.push(error.message));
    }
    await opened(board, `${office.url}/board/2026-12-04`);
    const token = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    await phone.goto(`${phones.url}/link/${token}`);
    await opened(phone, `${phones.url}/crew/alder/2026-12-04`);
    for (const page of [board, phone]) await mark(page);
    const placesBefore = await board.locator(".tag-work .words").first().boundingBox();
    good(await desk.make(hold("ice on the road"), ROBIN));
    // Two seconds are the promise; a busy machine that runs tests gets more.
    await board.locator("#holds").getByText("ice on the road").waitFor({ timeout: 20_000 });
    await phone.getByText("ice on the road").first().waitFor({ timeout: 20_000 });
    await board.getByText(/^Changed by Robin at \d/).waitFor();
    expect(await phone.locator(".live").textContent()).toMatch(/^Changed at \d/);
    for (const page of [board, phone]) expect(await isSamePage(page)).toBe(true);
    // The tags stand where the new plan has them: the rules of the page came along, and only they.
    const placesAfter = await board.locator(".tag-work .words").first().boundingBox();
    expect(placesAfter?.y).not.toBe(placesBefore?.y);
    expect(await board.locator("head > style").count()).toBe(0);
    const fresh = await openPage();
    await fresh.goto(`${office.url}/board/2026-12-04`);
    expect(await fresh.locator(".tag-work .words").first().boundingBox()).toEqual(placesAfter);
    expect(await board.locator("main").innerHTML()).toBe(await fresh.locator("main").innerHTML());
    expect(await listAccessFaults(board)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it.each(["/waiting", "/jobs"])("%s of the owner follows too", async (path) => {
    const { desk, office } = await start();
    const page = await openPage();
    await opened(page, office.url + path);
    await mark(page);
    const change = { kind: "promise-moved", job: "harbor-12", promised: "2026-12-17" } as const;
    good(await desk.make(change, CASEY));
    await page
      .locator("main")
      .getByText(/Thu 17 Dec/)
      .first()
      .waitFor({ timeout: 20_000 });
    expect(await isSamePage(page)).toBe(true);
  });

  it("what is unfolded, what has the focus and what is scrolled stays so", async () => {
    const { desk, office } = await start();
    const page = await openPage({ viewport: { width: 900, height: 500 } });
    await opened(page, `${office.url}/jobs/harbor-12`);
    const summary = page.locator("#task-t2 .change summary");
    await summary.click();
    await summary.focus();
    await page.evaluate(() => window.scrollTo(0, 300));
    good(await desk.make({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-17" }, CASEY));
    await page.locator(".facts").getByText("promised Thu 17 Dec").waitFor({ timeout: 20_000 });
    expect(await page.locator("#task-t2 .change").getAttribute("open")).toBe("");
    expect(await summary.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await page.evaluate(() => window.scrollY)).toBe(300);
  });

  it("what somebody types is kept, with a line that says who has changed the plan meanwhile", async () => {
    const { desk, office } = await start();
    const page = await openPage();
    await opened(page, `${office.url}/jobs/harbor-12`);
    await page.getByText("Change the promised date", { exact: true }).click();
    await page.locator("#promised-reason").fill("customer asked");
    good(await desk.make(hold("gusts"), CASEY));
    await page
      .getByText("Casey has changed the plan since you opened this page.")
      .waitFor({ timeout: 20_000 });
    // Also when she has left the field.
    await page.locator("h1").click();
    await page.getByLabel("Promised date", { exact: true }).fill("2026-12-18");
    good(await desk.make(hold("rime"), ROBIN));
    await page.getByText("Casey and Robin have changed the plan").waitFor({ timeout: 20_000 });
    expect(await page.locator("#promised-reason").inputValue()).toBe("customer asked");
    await page.getByRole("button", { name: "Change the promised date" }).click();
    await page.locator(".facts").getByText("promised Fri 18 Dec").waitFor();
  });

  it("where the server has stopped the page says since when, and that it is back when it is", async () => {
    const { desk, office } = await start();
    const page = await openPage();
    await opened(page, `${office.url}/board/2026-12-04`);
    await mark(page);
    const { port } = office.address() as AddressInfo;
    await stop(office);
    servers.splice(servers.indexOf(office), 1);
    await page
      .getByText(/^No connection since \d+:\d\d [ap]m\. What you see may be old\.$/)
      .waitFor({ timeout: 30_000 });
    expect(await listAccessFaults(page)).toEqual([]);
    good(await desk.make(hold("fog"), ROBIN));
    const database = await desks.database();
    const services = { desk, people: openPeople(database), record: openRecord(database) };
    await listen(createApp(services, { clock: makeFixedClock(AFTERNOON), automatic: TEST_OWNER }), port);
    await page.locator("#holds").getByText("fog").waitFor({ timeout: 30_000 });
    await page.getByText(/Changed by Robin|The connection is back/).waitFor();
    expect(await isSamePage(page)).toBe(true);
  });

  it("a phone whose link was taken back shows nothing more, and is told so in its language", async () => {
    const { people, phones } = await start();
    const phone = await openPage({ viewport: PHONE });
    const alder = { id: "alder", name: "Alder" };
    await phone.goto(`${phones.url}/link/${good(await people.makePrivateLink("crew", alder, COMMAND_LINE))}`);
    await opened(phone, `${phones.url}/crew/alder?lang=es`);
    good(await people.revokePrivateLink("crew", alder, COMMAND_LINE));
    phones.closeAllConnections();
    await phone.getByText("Esta página ya no está abierta para usted.").waitFor({ timeout: 30_000 });
    // Nothing of the crew's day is left to read.
    expect(await phone.locator("main").innerText()).toBe("");
  });

  it("without script a page stays as it came until it is loaded again", async () => {
    const { desk, office } = await start();
    const page = await openPage({ viewport: DESK, javaScriptEnabled: false });
    await page.goto(`${office.url}/board/2026-12-04`);
    good(await desk.make(hold("drizzle"), ROBIN));
    expect(await page.getByText("drizzle").count()).toBe(0);
    await page.reload();
    expect(await page.locator("#holds").getByText("drizzle").count()).toBe(1);
  });
});
