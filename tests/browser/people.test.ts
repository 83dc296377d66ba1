/** People in a real browser: from the link of the first start to the board, and every page on the way. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { openPeople, type People } from "../../src/services/people.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { browserAvailable, openBrowser } from "../support/browser.js";
import { makeTestDatabase, type TestDatabase } from "../support/database.js";
import { CHEAP, COMMAND_LINE, good, makeMember, OTHER_PASSWORD, PASSWORD } from "../support/people.js";
import { makeFakeDesk } from "../web/fake-desk.js";
import { startAppWith, type RunningApp } from "../web/running-app.js";
import { expectUsable, listSmallTargets, measureSideways } from "../support/page-faults.js";

const DESK = { width: 1280, height: 900 };
const SMALL_PHONE = { width: 320, height: 640 };

describe.runIf(browserAvailable())("in a browser", () => {
  let browser: Browser;
  let testDatabase: TestDatabase;
  let database: Database;
  let people: People;
  let app: RunningApp;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const contexts: BrowserContext[] = [];
  beforeEach(async () => {
    testDatabase = await makeTestDatabase();
    database = openDatabase(testDatabase.url);
    people = openPeople(database, { passwordCost: CHEAP });
    app = await startAppWith({
      desk: makeFakeDesk({
        company: decemberCompany(),
        nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
        plan: () => decemberPlan(),
      }),
      people,
    });
  });
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    await app.close();
    await database.close();
    await testDatabase.drop();
  });

  /** A new browser window with cookies of its own. */
  async function openPage(options: BrowserContextOptions): Promise<Page> {
    const context = await browser.newContext(options);
    contexts.push(context);
    return context.newPage();
  }

  async function signIn(page: Page, account: string, password = PASSWORD): Promise<void> {
    await page.goto(`${app.url}/sign-in`);
    await page.getByLabel("Account", { exact: true }).fill(account);
    await page.getByLabel("Password", { exact: true }).fill(password);
    await page.getByRole("button", { name: "Sign in" }).click();
  }

  const pathOf = (page: Page): string => new URL(page.url()).pathname;

  /** Accessibility faults on the smallest screen; sideways scrolling and targets too small for a finger on a wide one too. */
  async function checkPage(page: Page): Promise<void> {
    const targets = "main button, main summary, main input, main select, .masthead a, .masthead button";
    const byLabel = "fieldset input, .show-password input";
    await page.setViewportSize(DESK);
    expect(await measureSideways(page)).toBeLessThanOrEqual(0);
    expect(await listSmallTargets(page, targets, byLabel)).toEqual([]);
    await page.setViewportSize(SMALL_PHONE);
    await expectUsable(page, targets, byLabel);
  }

  it("the link of the first start leads over a password to the board, without script", async () => {
    const link = present(await people.firstRun(), "the link of the first start");
    const page = await openPage({ viewport: DESK, javaScriptEnabled: false });
    await page.goto(`${app.url}/invitation/${link}`);
    await page.getByLabel("Your name").fill("Nell Ashe");
    await page.getByLabel("Account", { exact: true }).fill("nell@ashe.example");
    await page.getByLabel("Password", { exact: true }).fill("short");
    await page.getByLabel("The same password again").fill("short");
    await page.getByRole("button", { name: "Set the password" }).click();
    expect(await page.getByRole("alert").textContent()).toContain("at least 12 characters");
    expect(await page.getByLabel("Your name").inputValue()).toBe("Nell Ashe");
    expect(await page.getByLabel("Password", { exact: true }).inputValue()).toBe("");
    await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
    await page.getByLabel("The same password again").fill(PASSWORD);
    await page.getByRole("button", { name: "Set the password" }).click();
    expect(pathOf(page)).toBe("/");
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("Tuesday 8 December");
    await page.getByRole("button", { name: "Sign out" }).click();
    expect(pathOf(page)).toBe("/sign-in");
    await page.goto(`${app.url}/waiting`);
    expect(pathOf(page)).toBe("/sign-in");
    await page.getByLabel("Account", { exact: true }).fill("NELL@ashe.example");
    await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    expect(pathOf(page)).toBe("/waiting");
  });

  it("an owner invites a dispatcher, who comes in by the link; disabled, she is out with her next click", async () => {
    await makeMember(people, "owner");
    const owner = await openPage({ viewport: DESK });
    await signIn(owner, "owner");
    await owner.getByRole("link", { name: "People" }).click();
    await owner.getByLabel("Name", { exact: true }).fill("Lou Birch");
    await owner.getByLabel("Account", { exact: true }).fill("lou");
    await owner.getByLabel("dispatcher").check();
    await owner.getByRole("button", { name: "Make an invitation" }).click();
    const link = present(await owner.locator(".made-link a").getAttribute("href"), "the link");

    const lou = await openPage({ viewport: DESK });
    await lou.goto(link);
    await lou.getByLabel("Password", { exact: true }).fill(OTHER_PASSWORD);
    await lou.getByLabel("The same password again").fill(OTHER_PASSWORD);
    await lou.getByRole("button", { name: "Set the password" }).click();
    expect(await lou.locator(".signed-in").textContent()).toContain("Lou Birch (dispatcher)");
    expect(await lou.getByRole("link", { name: "People" }).count()).toBe(0);

    await owner.getByRole("link", { name: "Back to the people" }).click();
    await owner.getByText("Change Lou Birch").click();
    await owner.getByRole("button", { name: "Do not let Lou Birch in any more" }).click();
    await lou.getByRole("link", { name: "Houses" }).click();
    expect(pathOf(lou)).toBe("/sign-in");
  });

  it("a crew's link opens that crew's sheet on a phone, and leaves the token in no address", async () => {
    await makeMember(people, "dispatcher");
    const office = await openPage({ viewport: DESK });
    await signIn(office, "dispatcher");
    await office.getByRole("link", { name: "Crew links" }).click();
    await office.getByRole("button", { name: "Make a link for Alder" }).click();
    const link = present(await office.locator(".made-link a").getAttribute("href"), "the link");

    const phone = await openPage({ viewport: SMALL_PHONE, hasTouch: true, isMobile: true });
    await phone.goto(link);
    expect(pathOf(phone)).toBe("/crew/alder");
    await phone.getByRole("link", { name: "Español" }).click();
    expect(await phone.locator("html").getAttribute("lang")).toBe("es");
    expect(await phone.evaluate(() => document.cookie)).toBe("");
    await phone.goto(`${app.url}/crew/birch`);
    expect(await phone.getByRole("main").textContent()).toContain("your own crew, and nothing else");
    await checkPage(phone);

    await office.goto(`${app.url}/crew-links`);
    await office.getByRole("button", { name: "Take the link back from Alder" }).click();
    await phone.goto(`${app.url}/crew/alder`);
    expect(await phone.getByRole("main").textContent()).toContain("This link opens nothing any more");
  });

  it("a password is shown while whoever types it wants to see it, and the form works as before", async () => {
    await makeMember(people, "owner");
    const page = await openPage({ viewport: SMALL_PHONE });
    await page.goto(`${app.url}/sign-in`);
    const password = page.getByLabel("Password", { exact: true });
    await page.getByLabel("Account", { exact: true }).fill("owner");
    await password.fill(PASSWORD);
    expect(await password.getAttribute("type")).toBe("password");
    await page.getByLabel("Show the password").check();
    expect(await password.getAttribute("type")).toBe("text");
    await page.getByRole("button", { name: "Sign in" }).click();
    expect(pathOf(page)).toBe("/");
  });

  it("every page of people has no accessibility fault, fits, and has targets for a finger", async () => {
    await makeMember(people, "owner");
    await makeMember(
      people,
      "viewer",
      "a-very-long-address-of-somebody@a-very-long-name-of-a-company.example",
    );
    const invited = good(
      await people.invite({ name: "Lou Birch", account: "lou", role: "viewer" }, COMMAND_LINE),
    );
    good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    const page = await openPage({ viewport: DESK });
    await page.goto(`${app.url}/invitation/${invited.token}`);
    await checkPage(page);
    await page.getByRole("button", { name: "Set the password" }).click();
    await checkPage(page);
    await signIn(page, "owner", "wrong wrong wrong");
    await checkPage(page);
    await signIn(page, "owner");
    for (const path of ["/people", "/crew-links", "/account", "/holds"]) {
      await page.goto(app.url + path);
      for (const summary of await page.locator("summary").all()) await summary.click();
      await checkPage(page);
    }
    await page.goto(`${app.url}/account`);
    await page.getByRole("button", { name: "Change the password" }).click();
    await checkPage(page);
    await page.goto(`${app.url}/crew-links`);
    await page.getByRole("button", { name: "Make a link for Birch" }).click();
    await checkPage(page);
  });
});
