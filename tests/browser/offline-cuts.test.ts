/**
 * Fifty random cuts between a crew's phone and the app, with a real browser, real processes and a real database: whatever
 * is cut, each report arrives once, in order, and none is lost.
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterEach, describe, expect, it } from "vitest";
import { Random } from "../../src/planner/core/random.js";
import { openPeople } from "../../src/services/people.js";
import { openDatabase } from "../../src/store/database.js";
import { browserAvailable } from "../support/browser.js";
import { keptOf, waitUntilKept } from "../support/crew-phone.js";
import { startCutNetwork } from "../support/cut-network.js";
import { CUTS, runCutRounds } from "../support/cut-rounds.js";
import { makeTestDatabase } from "../support/database.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { switchOn } from "../support/phone-browser.js";
import { killApp, serveApp, stopApp } from "../support/served-app.js";
import { EDITED_COMPANY } from "../web/editing.js";

const ROUNDS = 50;
const SEED = 6;
const ALDER = { id: "alder", name: "Alder" };
const REPORT = "/crew/alder/2026-12-03/report";

describe.runIf(browserAvailable())("in a browser", () => {
  const closings: (() => Promise<unknown>)[] = [];
  afterEach(async () => {
    for (const close of closings.splice(0).toReversed()) await close();
  });

  /** As her thumb does: the page may be loading, or be renewing itself. */
  async function say(page: Page, number: number): Promise<void> {
    const form = page.locator("#task-1 form.typed");
    await page.locator("#hours-left-1-more").evaluate((details) => details.setAttribute("open", ""));
    await form.locator("input[name=hours]").fill(String(number));
    await form.locator("button").click();
    await page
      .locator(".said strong")
      .filter({ hasText: new RegExp(` · ${number}$`) })
      .first()
      .waitFor();
  }

  it("after 50 random cuts the office has each report once, in the order in which it was said, and none is lost", async () => {
    const folder = await mkdtemp(join(tmpdir(), "daylap-cuts-"));
    closings.push(() => rm(folder, { recursive: true, force: true, maxRetries: 5 }));
    const made = await makeTestDatabase();
    closings.push(() => made.drop());
    const file = join(folder, "company.json");
    await writeFile(file, JSON.stringify(EDITED_COMPANY));
    const serve = () => serveApp(["--file", file, "--as-of", "2026-12-03T16:00"], { DATABASE_URL: made.url });
    let app = await serve();
    closings.push(() => stopApp(app));
    const database = openDatabase(made.url);
    closings.push(() => database.close());
    const people = openPeople(database, { passwordCost: CHEAP });
    const network = await startCutNetwork(app.url);
    closings.push(() => network.close());

    const profile = join(folder, "phone");
    const link = good(await people.makePrivateLink("crew", ALDER, COMMAND_LINE));
    const first = await switchOn(profile);
    await first.page.goto(`${network.url}/link/${link}`);
    await waitUntilKept(first.page, keptOf("alder", ["2026-12-03", "2026-12-04"]));
    // A cookie is on the phone's disk only some seconds after it was set.
    await first.close();

    const { made: cuts, said } = await runCutRounds(
      {
        network,
        switchOn: () => switchOn(profile),
        address: network.url + REPORT,
        say,
        killServer: async () => {
          await killApp(app);
          app = await serve();
          network.leadTo(app.url);
        },
      },
      ROUNDS,
      new Random(SEED),
    );

    for (const cut of CUTS) expect(cuts[cut], cut).toBeGreaterThan(0);
    expect(network.countLostAnswers()).toBeGreaterThan(0);
    expect(said).toBeGreaterThan(ROUNDS);
    const rows = await database.query<{ hours: string; said_at: Date }>(
      "select body->>'hours' as hours, said_at from site_report order by id",
    );
    const numbers = Array.from({ length: said }, (_, index) => index + 1);
    expect(rows.map(({ hours }) => Number(hours))).toEqual(numbers);
    // Each is one change on record.
    const changes = await database.query<{ count: string }>(
      "select count(*) as count from change where kind = 'site-report'",
    );
    expect(Number(changes[0]?.count)).toBe(said);
  }, 300_000);
});
