/** A crew's pages in a real browser without signal: what the phone keeps, what it says of it, and what it throws away. */
import type { BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { paths } from "../../src/web/paths.js";
import { browserAvailable } from "../support/browser.js";
import { KEPT_OF_ALDER as KEPT, startCrewPhone, type CrewPhoneRig } from "../support/crew-phone-rig.js";
import { keptOf, listKeptPages, PHONE, waitUntilKept } from "../support/crew-phone.js";
import type { CutNetwork } from "../support/cut-network.js";
import { ROBIN } from "../support/desk.js";
import { expectUsable, listAccessFaults } from "../support/page-faults.js";
import { COMMAND_LINE, good, makeMember, PASSWORD } from "../support/people.js";

const TODAY = "/crew/alder/2026-12-03";
const TOMORROW = "/crew/alder/2026-12-04";

describe.runIf(browserAvailable())("in a browser", () => {
  let rig: CrewPhoneRig;
  let network: CutNetwork;
  let link: string;
  /** A page of a phone that has opened the crew's link once, and keeps what it is to keep; there is signal. */
  let page: Page;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    rig = await startCrewPhone("2026-12-03T16:00");
    ({ network, link } = rig);
  });
  beforeEach(async () => {
    network.be("there");
    page = await rig.phone.newPage();
  });
  afterEach(async () => {
    await page.close();
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(() => rig.close());

  const open = (path: string) => page.goto(network.url + path);
  const heading = (): Promise<string> => page.locator("h1").innerText();
  const main = (): Promise<string> => page.getByRole("main").innerText();

  async function openOtherPhone(options: BrowserContextOptions = PHONE): Promise<Page> {
    const context = await rig.browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  it("the sheets of today and tomorrow open without signal, and say when the phone kept them", async () => {
    await open(TOMORROW);
    network.be("away");
    // The line about the copy is seen, although a browser leaves a page where it was before.
    await page.reload();
    const topOf = () => page.locator(".kept-notice").evaluate((line) => line.getBoundingClientRect().top);
    await expect.poll(topOf).toBe(0);
    expect(await page.locator(".kept-notice").innerText()).toMatch(
      /^No signal\. You see the copy that this phone kept: (\w{3}, \w{3} \d+, )?\d+:\d\d [ap]m$/,
    );
    expect(await heading()).toBe("Friday 4 December");
    expect(await page.getByText("12 Harbor Road").count()).toBeGreaterThan(0);
    expect(await listAccessFaults(page)).toEqual([]);
    // Style, type and script are there too.
    const font = await page.evaluate(() => document.fonts.check('700 16px "Atkinson Hyperlegible Next"'));
    expect(font).toBe(true);
    const ink = await page
      .locator(".thumbs a")
      .first()
      .evaluate((thumb) => getComputedStyle(thumb).fontWeight);
    expect(ink).toBe("700");
    await page.getByRole("link", { name: "Today", exact: true }).click();
    expect(await heading()).toBe("Thursday 3 December");
    await open("/crew/alder");
    expect(await heading()).toMatch(/^(Thursday 3|Friday 4) December$/);
  });

  it("the link that the office has sent leads to the sheet without signal too, in the language that it asks for", async () => {
    await open(TODAY);
    const scopes = (): Promise<number> =>
      page.evaluate(async () => {
        const registrations = await navigator.serviceWorker.getRegistrations();
        return registrations.filter(({ active }) => active !== null).length;
      });
    await expect.poll(scopes, { timeout: 20_000 }).toBe(2);
    network.be("away");
    await page.goto(link);
    expect(new URL(page.url()).pathname).toBe("/crew/alder");
    expect(await page.locator(".kept-notice").count()).toBe(1);
    await page.goto(`${link}?lang=es`);
    expect(await page.locator("html").getAttribute("lang")).toBe("es");
  });

  it("both languages are kept, so that the switch between them works without signal", async () => {
    network.be("away");
    await open(TOMORROW);
    await page.getByRole("link", { name: "Español" }).click();
    expect(await heading()).toBe("Viernes 4 de diciembre");
    expect(await page.locator(".kept-notice").innerText()).toMatch(
      /^Sin señal\. Ve la copia que guardó este teléfono: (\w{3}, \d+ \w{3}, )?\d+:\d\d [ap]\.\s?m\.$/,
    );
    await page.getByRole("link", { name: "Avisar" }).first().click();
    expect(await page.locator("html").getAttribute("lang")).toBe("es");
    await page.getByRole("link", { name: "English" }).click();
    expect(new URL(page.url()).pathname).toBe(`${TOMORROW}/report`);
    expect(await page.locator("html").getAttribute("lang")).toBe("en");
  });

  it("a copy that is read on its own day speaks of that, and no more of the day before as today", async () => {
    const other = await openOtherPhone();
    const buttons = async () =>
      (await other.locator(".thumbs a").allInnerTexts()).map((text) => text.replace(/\s+/g, " "));
    await other.goto(link);
    await waitUntilKept(other, KEPT);
    network.be("away");
    await other.clock.setFixedTime("2026-12-03T16:30:00-05:00");
    await other.goto(network.url + TOMORROW);
    expect(await buttons()).toEqual(["Today", "Tomorrow", "Report for today", "Español"]);
    await other.clock.setFixedTime("2026-12-04T06:30:00-05:00");
    await other.reload();
    expect(await buttons()).toEqual(["Thu 3 Dec", "Fri 4 Dec", "Report", "Español"]);
    await other.locator(".thumbs").getByRole("link", { name: "Report" }).click();
    expect(await other.locator("h1").innerText()).toBe("Report for Fri 4 Dec");
  });

  it("a copy that is there in one language only says so in both, and is never shown for the other", async () => {
    const other = await openOtherPhone();
    await other.goto(link);
    await waitUntilKept(other, KEPT);
    await other.evaluate(async () => {
      const store = await caches.open("daylap-pages-2");
      for (const { url } of await store.keys()) if (url.endsWith("lang=es")) await store.delete(url);
    });
    network.be("away");
    await other.goto(`${network.url}${TOMORROW}?lang=es`);
    const said = await other.getByRole("main").innerText();
    expect(said).toContain("This phone has no copy of this page.");
    expect(said).toContain("Esta página en español necesita señal.");
    await other.getByRole("link", { name: "Fri 4 Dec" }).click();
    expect(await other.locator("h1").innerText()).toBe("Friday 4 December");
  });

  it("the page for photos opens without signal with its form, and without the pictures", async () => {
    network.be("away");
    await open(TOMORROW);
    await page.getByRole("link", { name: "Send a photo" }).click();
    expect(await page.locator(".kept-notice").count()).toBe(1);
    expect(await page.getByLabel("What it shows").locator("option").allInnerTexts()).toContain(
      "12 Harbor Road: Side the front",
    );
    expect(await page.locator(".photos img:visible").count()).toBe(0);
    await expectUsable(page, "main button, main select, main input:not([type=hidden]), main a");
  });

  it.each([
    ["a day that is not kept", "/crew/alder/2026-12-09", /^No signal\s+This phone has no copy of this page/],
    ["one in Spanish", "/crew/alder/2026-12-09?lang=es", /^Sin señal\s+Este teléfono no guardó copia/],
    ["the page to print", `${TOMORROW}/print`, /^No signal\s+This phone has no copy of this page/],
    ["a photo", "/crew/alder/photos/7", /^No signal\s+This phone has no copy of this page/],
    [
      "an address that is none",
      "/crew/alder/no/such/page",
      /^No signal\s+This phone has no copy of this page/,
    ],
    ["a page of another crew", "/crew/birch/2026-12-04", /^No signal\s+This phone has no copy of this page/],
  ])("%s says that there is no signal, and leads to what is kept", async (_what, path, sentence) => {
    network.be("away");
    const answer = await open(path);
    expect(answer?.status()).toBe(503);
    expect(await main()).toMatch(sentence);
    expect(await page.title()).toMatch(/^(No signal|Sin señal)/);
    await expectUsable(page, "main a");
    await page.locator("main a").first().click();
    expect(await heading()).toMatch(/^(Thursday 3 December|Jueves 3 de diciembre)$/);
  });

  it("what could not be shown comes by itself when the signal is back, with its own style", async () => {
    network.be("away");
    await open(`${TOMORROW}/print`);
    network.be("there");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.locator("article.crew-page").waitFor({ timeout: 20_000 });
    expect(await page.locator("link[href$='print.css']").count()).toBe(1);
    // Also where it turns out that there is no such page.
    network.be("away");
    await open("/crew/alder/no/such/page");
    network.be("there");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.getByText("There is no page at").waitFor({ timeout: 20_000 });
  });

  it("when the signal is back the page itself takes the place of its copy", async () => {
    network.be("away");
    await open(TOMORROW);
    const input = { from: "2026-12-04T06:00", to: "2026-12-04T12:00", trades: "all", jobs: "all" } as const;
    good(await rig.app.desk.make({ kind: "hold-added", input: { ...input, why: "ice on the road" } }, ROBIN));
    network.be("there");
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.locator(".kept-notice").waitFor({ state: "hidden", timeout: 20_000 });
    await page.getByText("ice on the road").first().waitFor({ timeout: 20_000 });
    // And what is kept follows, in both languages.
    for (const kept of [TOMORROW, `${TOMORROW}?lang=es`]) {
      const keptText = (): Promise<string> =>
        page.evaluate(async (path) => (await (await caches.match(path))?.text()) ?? "", kept);
      await expect.poll(keptText, { timeout: 30_000 }).toContain("ice on the road");
    }
    network.be("away");
    await page.reload();
    await page.getByText("ice on the road").first().waitFor();
  });

  it("where the server fails the copy is shown, and the failure is not kept", async () => {
    network.fail(503, "<h1>Not at the moment</h1>");
    await open(TOMORROW);
    await page.locator(".kept-notice").waitFor();
    expect(await heading()).toBe("Friday 4 December");
    await open("/crew/alder/2026-12-09");
    expect(await heading()).toBe("Not at the moment");
    // Also one that claims to be well: a network that asks for a password first answers everything so.
    network.fail(200, "<h1>Welcome to the cafe</h1>");
    await open(TOMORROW);
    expect(await heading()).toBe("Welcome to the cafe");
    network.be("away");
    await page.reload();
    expect(await heading()).toBe("Friday 4 December");
  });

  it("a slow network is waited for a few seconds, then the copy is shown", async () => {
    network.be("silent");
    await open(TOMORROW);
    await page.locator(".kept-notice").waitFor();
    expect(await heading()).toBe("Friday 4 December");
  });

  it("nothing but GET is answered without signal", async () => {
    await open(TOMORROW);
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

  it("where the link is taken back, what is kept of that crew goes", async () => {
    const birch = { id: "birch", name: "Birch" };
    const other = await openOtherPhone();
    const token = good(await rig.people.makePrivateLink("crew", birch, COMMAND_LINE));
    await other.goto(`${network.url}/link/${token}`);
    await waitUntilKept(other, keptOf("birch", ["2026-12-03", "2026-12-04"]));
    good(await rig.people.revokePrivateLink("crew", birch, COMMAND_LINE));
    await other.goto(`${network.url}/crew/birch/2026-12-04`);
    expect(await other.getByRole("main").innerText()).toContain("This link opens nothing any more");
    await waitUntilKept(other, []);
    network.be("away");
    for (const path of ["/crew/birch/2026-12-04", `/link/${token}`]) {
      await other.goto(network.url + path);
      const said = await other.getByRole("main").innerText();
      expect(said).toContain("This phone keeps nothing of this page.");
      expect(said).toContain("Este teléfono no guarda nada de esta página.");
      await expectUsable(other, "main a");
    }
  });

  it("a page of the office, or of another crew, is neither kept nor answered for", async () => {
    const other = await openOtherPhone();
    await other.goto(link);
    await waitUntilKept(other, KEPT);
    await other.goto(`${network.url}/crew/birch/2026-12-04`);
    expect(await other.getByRole("main").innerText()).toContain("your own crew, and nothing else");
    await makeMember(rig.people, "owner");
    await other.goto(`${network.url}/sign-in`);
    await other.getByLabel("Account", { exact: true }).fill("owner");
    await other.getByLabel("Password", { exact: true }).fill(PASSWORD);
    await other.getByRole("button", { name: "Sign in" }).click();
    const ofTheOffice = ["/", "/jobs", "/crews", "/crew-links"];
    for (const path of [...ofTheOffice, "/crew/birch/2026-12-04", TODAY]) {
      await other.goto(network.url + path);
      expect(await other.locator("h1").innerText()).not.toBe("Not from here");
    }
    // What people of the office see of a crew's sheet is not what its phone keeps.
    expect(await other.locator(".offline").count()).toBe(0);
    expect((await listKeptPages(other)).toSorted()).toEqual(KEPT.toSorted());
    network.be("away");
    for (const path of ofTheOffice) await expect(other.goto(network.url + path)).rejects.toThrow(/ERR_/);
    const again = await other.context().newPage();
    await again.goto(network.url + TODAY);
    expect(await again.locator(".kept-notice").count()).toBe(1);
    expect(await again.locator(".office-only").count()).toBe(0);
  });

  it("a new version of the worker takes over at once and keeps what is kept", async () => {
    network.replace(
      paths.file("offline-worker.js"),
      (text) => `${text}\nself.addEventListener("message", (event) => event.ports[0]?.postMessage("new"));`,
    );
    await open(TOMORROW);
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
    const other = await openOtherPhone({ ...PHONE, javaScriptEnabled: false });
    await other.goto(link);
    expect(await other.locator("h1").innerText()).toBe("Friday 4 December");
    expect(await other.locator(".offline").innerText()).toBe("");
  });
});
