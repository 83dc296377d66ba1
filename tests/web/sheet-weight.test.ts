/**
 * What a day sheet weighs on its way to a crew's phone, fonts apart. Counted is every byte that the server sends to a
 * browser that opens the crew's link for the first time, headers and all: the link, the page, styles, scripts, icon, the
 * stream of changes, and the service worker with its scripts, for both of its scopes. Not counted is what the worker then
 * asks for by itself, to have it where there is no signal: those are other pages, and nobody waits for them.
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import { addDays, civilDate } from "../../src/domain/time.js";
import { present } from "../../src/domain/result.js";
import { openPeople } from "../../src/services/people.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { PHONE } from "../support/crew-phone.js";
import { startCutNetwork, type PassedAnswer } from "../support/cut-network.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { askRaw } from "../support/raw-answer.js";
import { startDemoServer, type TestServer } from "../support/server.js";

const MOST_BYTES = 40_000;

let app: TestServer;
/** By crew: its link, and the cookie of a phone that has opened it. */
const phones = new Map<string, { readonly link: string; readonly cookie: string }>();
beforeAll(async () => {
  app = await startDemoServer("2026-12-07T15:10", {});
  const people = openPeople(app.database, { passwordCost: CHEAP });
  for (const { id } of app.desk.current().company.crews) {
    const link = `/link/${good(await people.makePrivateLink("crew", { id, name: id }, COMMAND_LINE))}`;
    const answer = await fetch(app.url + link, { redirect: "manual" });
    phones.set(id, { link, cookie: (answer.headers.get("set-cookie") ?? "").split(";")[0] ?? "" });
  }
});
afterAll(() => app.stop());

/** Of the demo's next week, in one language: the sheet that weighs most, by itself. */
async function findHeaviest(language: string) {
  const sheets = [];
  for (const [crew, { link, cookie }] of phones) {
    for (let ahead = 0; ahead < 7; ahead += 1) {
      const path = `/crew/${crew}/${addDays(civilDate("2026-12-07"), ahead)}?lang=${language}`;
      const page = await askRaw(app.url, path, { "accept-encoding": "gzip, deflate, br", cookie });
      expect(page.status).toBe(200);
      sheets.push({ path, link, bytes: page.bytes });
    }
  }
  return present(sheets.toSorted((a, b) => b.bytes - a.bytes)[0], "a sheet");
}

/** Everything that a browser gets that opens the link, as the office has sent it, and the sheet to which that leads. */
async function openForTheFirstTime(link: string, path: string): Promise<readonly PassedAnswer[]> {
  const browser = await openBrowser();
  const network = await startCutNetwork(app.url);
  try {
    const context = await browser.newContext(PHONE);
    const page = await context.newPage();
    // Not followed: on its evening it would lead to this sheet.
    await context.request.get(network.url + link, { maxRedirects: 0 });
    await page.goto(network.url + path);
    const isActive = (): Promise<boolean> =>
      page.evaluate(async () => {
        const registrations = await navigator.serviceWorker.getRegistrations();
        return registrations.filter(({ active }) => active?.state === "activated").length === 2;
      });
    await expect.poll(isActive, { timeout: 20_000 }).toBe(true);
    await page.evaluate(() => document.fonts.ready);
    return network.listAnswers();
  } finally {
    await browser.close();
    await network.close();
  }
}

it.runIf(browserAvailable()).each(["en", "es"])(
  "the heaviest sheet of the demo's next week is at most 40 kB over the wire with all that it loads (%s)",
  async (language) => {
    const { path, link } = await findHeaviest(language);
    const answers = await openForTheFirstTime(link, path);
    const counted = answers.filter(
      ({ path: asked, purpose }) => purpose !== "font" && (purpose !== "empty" || asked.endsWith("/live")),
    );
    const bytes = counted.reduce((sum, answer) => sum + answer.bytes, 0);
    const list = counted.map((answer) => `${answer.bytes} ${answer.purpose} ${answer.path}`).join("\n");
    expect(bytes, `${path} is ${bytes} bytes:\n${list}`).toBeLessThanOrEqual(MOST_BYTES);
    // All of it is there, and the worker for each of its scopes.
    const isCounted = (end: string): number => counted.filter((answer) => answer.path.endsWith(end)).length;
    const ends = [link, path, "/live", "/day-sheet.css", "/icon.svg", "/offline.js", "/idb/index.js"];
    for (const end of [...ends, "/kept-pages.js"]) expect(isCounted(end), end).toBeGreaterThan(0);
    expect(isCounted("/offline-worker.js")).toBe(2);
  },
);

it("streams are not held back to be packed", async () => {
  const headers = { "accept-encoding": "gzip", cookie: present(phones.get("alder"), "a phone").cookie };
  const answer = await fetch(`${app.url}/crew/alder/live`, { headers });
  expect(answer.status).toBe(200);
  expect(answer.headers.get("content-encoding")).toBeNull();
  await answer.body?.cancel();
});
