/** A crew's pages in a real browser without signal: what the phone keeps, what it says of it, and what it throws away. */
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { makeFixedClock } from "../../src/services/clock.js";
import { openPeople } from "../../src/services/people.js";
import { openRecord } from "../../src/services/record.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { listKeptPages, PHONE, waitUntilKept } from "../support/crew-phone.js";
import { startCutNetwork } from "../support/cut-network.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { listAccessFaults } from "../support/page-faults.js";
import { CHEAP, COMMAND_LINE, good, makeMember, PASSWORD } from "../support/people.js";
import { AFTERNOON, EDITED_COMPANY } from "../web/editing.js";
import { startAppWith } from "../web/running-app.js";

const ALDER = { id: "alder", name: "Alder" };
/** Today and tomorrow of the company's clock. */
const KEPT = ["2026-12-03", "2026-12-04"].flatMap((date) => [
  `/crew/alder/${date}`,
  `/crew/alder/${date}/report`,
]);
const WORKER = "/static/offline-worker.js";

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
  const closings: (() => Promise<void>)[] = [];
  afterEach(async () => {
    for (const close of closings.splice(0).toReversed()) await close();
  });

  async function start() {
    const desk = await desks.open(EDITED_COMPANY);
    const database = await desks.database();
    const people = openPeople(database, { passwordCost: CHEAP });
    const services = { desk, people, record: openRecord(database) };
    const app = await startAppWith(services, { clock: makeFixedClock(AFTERNOON) });
    closings.push(() => app.close());
    const network = await startCutNetwork(app.url);
    closings.push(() => network.close());
    const link = good(await people.makePrivateLink("crew", ALDER, COMMAND_LINE));
    return { desk, people, network, link };
  }

  async function openPhone(options: BrowserContextOptions = PHONE): Promise<Page> {
    const context = await browser.newContext(options);
    closings.push(() => context.close());
    return context.newPage();
  }

  /** A phone that has opened the crew's link once, and keeps what it is to keep. */
  async function startWithPhone() {
    const started = await start();
    const page = await openPhone();
    await page.goto(`${started.network.url}/link/${started.link}`);
    await waitUntilKept(page, KEPT);
    return { ...started, page };
  }

  it("the sheets of today and tomorrow open without signal, and say when the phone kept them", async () => {
    const { network, page } = await startWithPhone();
    network.be("away");
    await page.reload();
    expect(await page.locator(".kept-notice").innerText()).toMatch(
      /^No signal\. You see the copy that this phone kept: (\w{3}, \w{3} \d+, )?\d+:\d\d [ap]m$/,
    );
    expect(await page.locator("h1").innerText()).toBe("Friday 4 December");
    expect(await page.getByText("12 Harbor Road").count()).toBeGreaterThan(0);
    expect(await listAccessFaults(page)).toEqual([]);
    await page.getByRole("link", { name: "Today" }).click();
    expect(await page.locator("h1").innerText()).toBe("Thursday 3 December");
    // The address that a phone has on its home screen names no date.
    await page.goto(`${network.url}/crew/alder`);
    expect(await page.locator("h1").innerText()).toMatch(/^(Thursday 3|Friday 4) December$/);
    // Style, type and script are there too.
    const font = await page.evaluate(() => document.fonts.check('700 16px "Atkinson Hyperlegible Next"'));
    expect(font).toBe(true);
    const ink = await page.locator(".thumbs").evaluate((bar) => getComputedStyle(bar).position);
    expect(ink).toBe("sticky");
  });

  it("the link that the office has sent leads to the sheet without signal too", async () => {
    const { network, page, link } = await startWithPhone();
    const scopes = (): Promise<number> =>
      page.evaluate(async () => {
        const registrations = await navigator.serviceWorker.getRegistrations();
        return registrations.filter(({ active }) => active !== null).length;
      });
    await expect.poll(scopes, { timeout: 20_000 }).toBe(2);
    network.be("away");
    await page.goto(`${network.url}/link/${link}`);
    expect(new URL(page.url()).pathname).toBe("/crew/alder");
    expect(await page.locator(".kept-notice").count()).toBe(1);
  });

  it("in Spanish the copy says so in Spanish", async () => {
    const { network, link } = await start();
    const page = await openPhone();
    await page.goto(`${network.url}/link/${link}?lang=es`);
    await waitUntilKept(page, KEPT);
    network.be("away");
    await page.reload();
    expect(await page.locator(".kept-notice").innerText()).toMatch(
      /^Sin señal\. Ve la copia que guardó este teléfono: (\w{3}, \d+ \w{3}, )?\d+:\d\d [ap]\.\s?m\.$/,
    );
    await page.goto(`${network.url}/crew/alder/2026-12-09`);
    expect(await page.getByRole("main").innerText()).toContain("Sin señal, y este teléfono no guardó copia");
  });

  it("a day that is not kept says so and leads to those that are", async () => {
    const { network, page } = await startWithPhone();
    network.be("away");
    const answer = await page.goto(`${network.url}/crew/alder/2026-12-09`);
    expect(answer?.status()).toBe(503);
    expect(await page.getByRole("main").innerText()).toMatch(
      /^No signal, and this phone has no copy of this page/,
    );
    expect(await page.title()).toMatch(/^No signal/);
    await page.getByRole("link", { name: "Thu 3 Dec" }).click();
    expect(await page.locator("h1").innerText()).toBe("Thursday 3 December");
    expect((await listKeptPages(page)).toSorted()).toEqual(KEPT.toSorted());
  });

  it("when the signal is back the page itself takes the place of its copy", async () => {
    const { desk, network, page } = await startWithPhone();
    network.be("away");
    await page.reload();
    await page.locator(".kept-notice").waitFor();
    const input = { from: "2026-12-04T06:00", to: "2026-12-04T12:00", trades: "all", jobs: "all" } as const;
    good(await desk.make({ kind: "hold-added", input: { ...input, why: "ice on the road" } }, ROBIN));
    network.be("there");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.locator(".kept-notice").waitFor({ state: "hidden", timeout: 20_000 });
    await page.getByText("ice on the road").first().waitFor({ timeout: 20_000 });
    // And what is kept follows.
    const keptText = (): Promise<string> =>
      page.evaluate(async () => (await (await caches.match("/crew/alder/2026-12-04"))?.text()) ?? "");
    await expect.poll(keptText, { timeout: 30_000 }).toContain("ice on the road");
    network.be("away");
    await page.reload();
    await page.getByText("ice on the road").first().waitFor();
  });

  it("where the server fails the copy is shown, and the failure is not kept", async () => {
    const { network, page } = await startWithPhone();
    network.fail(503, "<h1>Not at the moment</h1>");
    await page.reload();
    await page.locator(".kept-notice").waitFor();
    expect(await page.locator("h1").innerText()).toBe("Friday 4 December");
    await page.goto(`${network.url}/crew/alder/2026-12-09`);
    expect(await page.locator("h1").innerText()).toBe("Not at the moment");
    // Also one that claims to be well: a network that asks for a password first answers everything so.
    network.fail(200, "<h1>Welcome to the cafe</h1>");
    await page.goto(`${network.url}/crew/alder/2026-12-04`);
    expect(await page.locator("h1").innerText()).toBe("Welcome to the cafe");
    network.be("away");
    await page.reload();
    expect(await page.locator("h1").innerText()).toBe("Friday 4 December");
  });

  it("a slow network is waited for a few seconds, then the copy is shown", async () => {
    const { network, page } = await startWithPhone();
    network.be("silent");
    await page.reload();
    await page.locator(".kept-notice").waitFor();
    expect(await page.locator("h1").innerText()).toBe("Friday 4 December");
  });

  it("where the link is taken back, what is kept of that crew goes", async () => {
    const { people, network, page } = await startWithPhone();
    good(await people.revokePrivateLink("crew", ALDER, COMMAND_LINE));
    await page.goto(`${network.url}/crew/alder/2026-12-04`);
    expect(await page.getByRole("main").innerText()).toContain("This link opens nothing any more");
    await waitUntilKept(page, []);
    network.be("away");
    await expect(page.goto(`${network.url}/crew/alder/2026-12-04`)).rejects.toThrow(/ERR_/);
  });

  it("a page of the office, or of another crew, is neither kept nor answered for", async () => {
    const { people, network, page } = await startWithPhone();
    await page.goto(`${network.url}/crew/birch/2026-12-04`);
    expect(await page.getByRole("main").innerText()).toContain("your own crew, and nothing else");
    await makeMember(people, "owner");
    await page.goto(`${network.url}/sign-in`);
    await page.getByLabel("Account", { exact: true }).fill("owner");
    await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    for (const path of [
      "/",
      "/jobs",
      "/crews",
      "/crew-links",
      "/crew/birch/2026-12-04",
      "/crew/alder/2026-12-03",
    ]) {
      await page.goto(network.url + path);
      expect(await page.locator("h1").innerText()).not.toBe("Not from here");
    }
    // What people of the office see of a crew's sheet is not what its phone keeps.
    expect(await page.locator(".offline").count()).toBe(0);
    expect((await listKeptPages(page)).toSorted()).toEqual(KEPT.toSorted());
    network.be("away");
    for (const path of ["/", "/jobs", "/crews", "/crew-links", "/crew/birch/2026-12-04"]) {
      await expect(page.goto(network.url + path)).rejects.toThrow(/ERR_/);
    }
    const again = await page.context().newPage();
    await again.goto(`${network.url}/crew/alder/2026-12-03`);
    expect(await again.locator(".kept-notice").count()).toBe(1);
    expect(await again.locator(".office-only").count()).toBe(0);
  });

  it("nothing but GET is answered without signal", async () => {
    const { network, page } = await startWithPhone();
    network.be("away");
    const answers = await page.evaluate(async () => {
      const ask = (path: string, init: RequestInit): Promise<string> =>
        fetch(path, init).then(
          (answer) => String(answer.status),
          () => "nothing",
        );
      const posts = ["/crew/alder/2026-12-04", "/crew/alder/reports", "/static/base.css"];
      return Promise.all([
        ...posts.map((path) => ask(path, { method: "POST", body: "" })),
        // A page that renews itself must not take a copy for what stands now.
        ask("/crew/alder/2026-12-04", { headers: { "x-page-renewal": "1" } }),
      ]);
    });
    expect(answers).toEqual(["nothing", "nothing", "nothing", "nothing"]);
  });

  it("a new version of the worker takes over at once and keeps what is kept", async () => {
    const { network, page } = await startWithPhone();
    network.replace(
      WORKER,
      (text) => `${text}\nself.addEventListener("message", (event) => event.ports[0]?.postMessage("new"));`,
    );
    // As the browser does by itself some time after a page was opened.
    await page.evaluate(async () => {
      const taken = new Promise((resolve) => {
        navigator.serviceWorker.addEventListener("controllerchange", resolve);
      });
      await (await navigator.serviceWorker.ready).update();
      await taken;
    });
    const versionOf = (): Promise<string> =>
      page.evaluate(
        () =>
          new Promise<string>((resolve) => {
            const channel = new MessageChannel();
            channel.port1.addEventListener("message", ({ data }) => resolve(String(data)));
            channel.port1.start();
            navigator.serviceWorker.controller?.postMessage({}, [channel.port2]);
            setTimeout(() => resolve("old"), 5000);
          }),
      );
    expect(await versionOf()).toBe("new");
    network.be("away");
    await page.reload();
    await page.locator(".kept-notice").waitFor();
    expect((await listKeptPages(page)).toSorted()).toEqual(KEPT.toSorted());
  });

  it("with script off the sheet is what it always was", async () => {
    const { network, link } = await start();
    const page = await openPhone({ ...PHONE, javaScriptEnabled: false });
    await page.goto(`${network.url}/link/${link}`);
    expect(await page.locator("h1").innerText()).toBe("Friday 4 December");
    expect(await page.locator(".offline").innerText()).toBe("");
  });
});
