/** Coming in, by each way there is: first start, sign-in, invitation, crew link; and what the cookies and pages give away. */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { openPeople, type People } from "../../src/services/people.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import type { AppOptions } from "../../src/web/app.js";
import { toNextPage } from "../../src/web/next-page.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { makeTestDatabase, type TestDatabase } from "../support/database.js";
import { CHEAP, good, makeMember, OTHER_PASSWORD, PASSWORD } from "../support/people.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startAppWith, type RunningApp } from "./running-app.js";
import { Visitor } from "./visitor.js";

const START = Date.parse("2026-12-07T20:10:00Z");
const TLS = { "x-forwarded-proto": "https" };

let testDatabase: TestDatabase;
let database: Database;
let people: People;
let app: RunningApp;
const clock = { now: START };

const start = (options: AppOptions = {}): Promise<RunningApp> =>
  startAppWith(
    {
      desk: makeFakeDesk({
        company: decemberCompany(),
        nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
        plan: () => decemberPlan(),
      }),
      people,
    },
    options,
  );

beforeAll(async () => {
  testDatabase = await makeTestDatabase();
  database = openDatabase(testDatabase.url);
  people = openPeople(database, { clock: () => clock.now, passwordCost: CHEAP });
  app = await start();
});
beforeEach(async () => {
  clock.now = START;
  await database.query(
    "truncate person, session, invitation, private_link, sign_in_attempt, people_change restart identity",
  );
});
afterAll(async () => {
  await app.close();
  await database.close();
  await testDatabase.drop();
});

const CREDENTIALS = { account: "owner", password: PASSWORD };

async function signedIn(role: "owner" | "dispatcher" | "viewer" = "owner"): Promise<Visitor> {
  await makeMember(people, role);
  const visitor = new Visitor(app);
  expect((await visitor.post("/sign-in", { account: role, password: PASSWORD })).status).toBe(303);
  return visitor;
}

describe("the first start", () => {
  it("leads from the printed link over a password to the board", async () => {
    const link = present(await people.firstRun(), "the link");
    const nell = new Visitor(app);
    expect(await nell.textOf(`/invitation/${link}`)).toContain("Nobody owns this plan yet");
    const form = { name: "Nell Ashe", account: "nell", password: PASSWORD, again: PASSWORD };
    const answer = await nell.post(`/invitation/${link}`, form);
    expect([answer.status, answer.headers.get("location")]).toEqual([303, "/"]);
    const board = await nell.textOf("/");
    expect(board).toContain("<h1>Tuesday 8 December</h1>");
    expect(board).toContain("Nell Ashe (owner)");
    expect((await new Visitor(app).get(`/invitation/${link}`)).status).toBe(404);
  });

  it("sends the form back with everything that is wrong and what was typed, and never with the password", async () => {
    const link = present(await people.firstRun(), "the link");
    const form = { name: "", account: "two words", password: "too short", again: "too short" };
    const answer = await new Visitor(app).post(`/invitation/${link}`, form);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    for (const sentence of ["Write the person", "The account name holds a space", "at least 12 characters"]) {
      expect(page).toContain(sentence);
    }
    expect(page).toContain('value="two words"');
    expect(page).not.toContain("too short");
  });

  it("wants the same password twice", async () => {
    const link = present(await people.firstRun(), "the link");
    const form = { name: "Nell", account: "nell", password: PASSWORD, again: OTHER_PASSWORD };
    const answer = await new Visitor(app).post(`/invitation/${link}`, form);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain("The two passwords are not the same");
    expect(page).not.toContain(PASSWORD);
    expect(await people.list()).toEqual([]);
  });
});

describe("the sign-in", () => {
  it("leads to the page that was asked for", async () => {
    await makeMember(people, "owner");
    const visitor = new Visitor(app);
    const asked = await visitor.get("/board/2026-12-10?x=1");
    const signIn = asked.headers.get("location") ?? "";
    expect([asked.status, signIn]).toEqual([303, "/sign-in?next=%2Fboard%2F2026-12-10%3Fx%3D1"]);
    const next = /name="next" value="([^"]+)"/.exec(await visitor.textOf(signIn))?.[1] ?? "";
    const answer = await visitor.post("/sign-in", { ...CREDENTIALS, next });
    expect([answer.status, answer.headers.get("location")]).toEqual([303, "/board/2026-12-10?x=1"]);
  });

  it.each([
    "https://elsewhere.example/",
    "//elsewhere.example/",
    "/\\elsewhere.example",
    "\\\\elsewhere.example",
    "/%2Felsewhere.example",
    "/\t/elsewhere.example",
    "javascript:alert(1)",
    "/link/abc",
    "/sign-in?next=/",
    "/no-such-page",
    `/jobs?${"x".repeat(600)}`,
    "",
  ])("goes to the board, and not to %j", async (next) => {
    expect(toNextPage(next)).toBe("/");
    await makeMember(people, "owner");
    const answer = await new Visitor(app).post("/sign-in", { ...CREDENTIALS, next });
    expect(answer.headers.get("location")).toBe("/");
  });

  it("that fails comes back with the account and never with the password", async () => {
    await makeMember(people, "owner");
    const answer = await new Visitor(app).post("/sign-in", { account: "own<er", password: "hush hush hush" });
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain("Account and password do not go together");
    expect(page).toContain('value="own&lt;er"');
    expect(page).not.toContain("hush");
    expect(answer.headers.getSetCookie()).toEqual([]);
  });

  it("that has failed too often says how long to wait, to people and to programs", async () => {
    await makeMember(people, "owner");
    const visitor = new Visitor(app);
    for (let tries = 0; tries < 5; tries += 1) {
      await visitor.post("/sign-in", { account: "owner", password: "wrong wrong wrong" });
    }
    const answer = await visitor.post("/sign-in", CREDENTIALS);
    expect([answer.status, answer.headers.get("retry-after")]).toEqual([429, "30"]);
    expect(await answer.text()).toContain("wait 30 seconds");
  });

  it("believes what a proxy says of the address only where it is told to", async () => {
    await makeMember(people, "owner");
    const behindProxy = await start({ trustProxy: 1 });
    try {
      const statusOf = async (running: RunningApp, address: string, account: string): Promise<number> =>
        (
          await new Visitor(running, { "x-forwarded-for": address }).post("/sign-in", {
            account,
            password: "wrong wrong wrong",
          })
        ).status;
      for (let tries = 0; tries < 20; tries += 1) await statusOf(app, `192.0.2.${tries}`, `a-${tries}`);
      expect(await statusOf(app, "192.0.2.99", "b")).toBe(429);
      for (let tries = 0; tries < 20; tries += 1) await statusOf(behindProxy, "198.51.100.7", `c-${tries}`);
      expect(await statusOf(behindProxy, "198.51.100.7", "d")).toBe(429);
      expect(await statusOf(behindProxy, "198.51.100.8", "d")).toBe(422);
    } finally {
      await behindProxy.close();
    }
  });

  it("takes a field that was sent twice for one that was not sent", async () => {
    await makeMember(people, "owner");
    const form = new URLSearchParams([
      ["account", "owner"],
      ["account", "owner"],
      ["password", PASSWORD],
    ]);
    expect((await app.post("/sign-in", form)).status).toBe(422);
  });

  it("takes no form that is longer than a form", async () => {
    const answer = await new Visitor(app).post("/sign-in", { account: "x".repeat(20_000), password: "" });
    expect(answer.status).toBe(413);
  });
});

describe("a session's cookie", () => {
  it("is for this host alone, is read by no script, and is sent by no other site's form", async () => {
    const [cookie] = (await signedIn()).cookies;
    expect(cookie).toMatchObject({ name: "daylap-session", path: "/" });
    expect(cookie?.attributes.toSorted()).toEqual(["httponly", "path=/", "samesite=lax"]);
  });

  it("travels over TLS only where it was given over TLS, with the prefix that binds it to the host", async () => {
    await makeMember(people, "owner");
    const behindProxy = await start({ trustProxy: 1 });
    try {
      const visitor = new Visitor(behindProxy, TLS);
      await visitor.post("/sign-in", CREDENTIALS);
      const [cookie] = visitor.cookies;
      expect(cookie?.name).toBe("__Host-daylap-session");
      expect(cookie?.attributes.toSorted()).toEqual(["httponly", "path=/", "samesite=lax", "secure"]);
      expect((await visitor.get("/")).status).toBe(200);
      // The plain name, which another host of the domain could set, is not looked at there.
      const other = new Visitor(behindProxy, TLS);
      other.hold({ name: "daylap-session", value: cookie?.value ?? "", path: "/", attributes: [] });
      expect((await other.get("/")).status).toBe(303);
    } finally {
      await behindProxy.close();
    }
  });

  it("is never one that the browser brought along: a token planted before the sign-in lets nobody in", async () => {
    await makeMember(people, "owner");
    const planted = "A".repeat(43);
    const victim = new Visitor(app);
    victim.hold({ name: "daylap-session", value: planted, path: "/", attributes: [] });
    await victim.post("/sign-in", CREDENTIALS);
    expect(victim.cookies[0]?.value).not.toBe(planted);
    const attacker = new Visitor(app);
    attacker.hold({ name: "daylap-session", value: planted, path: "/", attributes: [] });
    expect((await attacker.get("/")).status).toBe(303);
  });

  it("is another one after each sign-in, and the one before lets nobody in", async () => {
    const visitor = await signedIn();
    const first = present(visitor.cookies[0], "the cookie");
    await visitor.post("/sign-in", CREDENTIALS);
    expect(visitor.cookies[0]?.value).not.toBe(first.value);
    const old = new Visitor(app);
    old.hold(first);
    expect((await old.get("/")).status).toBe(303);
  });

  it("is gone after the sign-out, and what it held lets nobody in", async () => {
    const visitor = await signedIn();
    const held = present(visitor.cookies[0], "the cookie");
    const answer = await visitor.post("/sign-out");
    expect([answer.status, answer.headers.get("location")]).toEqual([303, "/sign-in"]);
    expect(visitor.cookies).toEqual([]);
    visitor.hold(held);
    expect((await visitor.get("/")).status).toBe(303);
  });

  it("lets nobody in from another browser after the sign-out everywhere", async () => {
    const here = await signedIn();
    const there = new Visitor(app);
    await there.post("/sign-in", CREDENTIALS);
    await here.post("/sign-out-everywhere");
    expect((await there.get("/")).status).toBe(303);
  });
});

describe("pages of people who are signed in", () => {
  it("are kept by no browser and no proxy, nor are the refusals and redirects around them", async () => {
    const visitor = await signedIn("viewer");
    for (const path of ["/", "/jobs", "/planning", "/crew/alder", "/account", "/people", "/no-such-page"]) {
      expect((await visitor.get(path)).headers.get("cache-control")).toBe("no-store");
    }
    expect((await new Visitor(app).get("/")).headers.get("cache-control")).toBe("no-store");
  });

  it("say who is signed in, and offer only what the role may do", async () => {
    const viewer = await (await signedIn("viewer")).textOf("/holds");
    expect(viewer).toContain("Test viewer (viewer)");
    for (const other of ['href="/people"', 'href="/crew-links"', "Lift", "Add the hold"]) {
      expect(viewer).not.toContain(other);
    }
    const dispatcher = await (await signedIn("dispatcher")).textOf("/holds");
    expect(dispatcher).toContain('href="/crew-links"');
    expect(dispatcher).toContain("Add the hold");
    expect(dispatcher).not.toContain('href="/people"');
    expect(await (await signedIn("owner")).textOf("/")).toContain('href="/people"');
  });

  it("show a name as text, whatever is in it", async () => {
    const owner = await signedIn();
    await owner.post("/people", { name: "<b>Lou</b>", account: "<i>", role: "viewer" });
    const page = await owner.textOf("/people");
    expect(page).toContain("&lt;b&gt;Lou&lt;/b&gt;");
    expect(page).not.toContain("<b>Lou");
  });
});

describe("the page of people", () => {
  it("makes an invitation, shows its link once, and the link leads in", async () => {
    const owner = await signedIn();
    const answer = await owner.post("/people", { name: "Lou Birch", account: "lou", role: "dispatcher" });
    const page = await answer.text();
    expect(answer.status).toBe(200);
    const url = new URL(/href="(http[^"]+\/invitation\/[\w-]{43})"/.exec(page)?.[1] ?? "");
    expect(url.origin).toBe(app.url);
    expect(await owner.textOf("/people")).not.toContain(url.pathname);
    const lou = new Visitor(app);
    expect(await lou.textOf(url.pathname)).toContain("you are invited as dispatcher");
    const set = await lou.post(url.pathname, { password: OTHER_PASSWORD, again: OTHER_PASSWORD });
    expect(set.headers.get("location")).toBe("/");
    expect(await lou.textOf("/")).toContain("Lou Birch (dispatcher)");
  });

  it("sends a faulty invitation back with what was typed", async () => {
    const owner = await signedIn();
    const answer = await owner.post("/people", { name: "Lou", account: "OWNER", role: "boss" });
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain('value="OWNER"');
    expect(page).toContain("Choose what the person may do");
  });

  it("changes a role at once, and refuses a form that is older than another change, keeping what was typed", async () => {
    const owner = await signedIn();
    const viewer = await signedIn("viewer");
    const person = present(
      (await people.list()).find(({ account }) => account === "viewer"),
      "the viewer",
    );
    const version = String(person.version);
    const change = { role: "dispatcher", why: "plans with us", version };
    expect((await owner.post(`/people/${person.id}/role`, change)).status).toBe(303);
    expect((await viewer.get("/crew-links")).status).toBe(200);
    const stale = await owner.post(`/people/${person.id}/disable`, {
      role: "owner",
      why: "left us",
      version,
    });
    const page = await stale.text();
    expect(stale.status).toBe(409);
    expect(page).toContain("Test viewer was changed since you opened this page");
    expect(page).toContain('value="left us"');
    expect((await viewer.get("/")).status).toBe(200);
  });

  it("throws a person out at once, and lets her in again only by a new sign-in", async () => {
    const owner = await signedIn();
    const viewer = await signedIn("viewer");
    const current = async () =>
      present(
        (await people.list()).find(({ account }) => account === "viewer"),
        "her",
      );
    const { id, version } = await current();
    await owner.post(`/people/${id}/disable`, { version: String(version) });
    expect((await viewer.get("/")).status).toBe(303);
    await owner.post(`/people/${id}/enable`, { version: String((await current()).version) });
    expect((await viewer.get("/")).status).toBe(303);
    expect((await viewer.post("/sign-in", { account: "viewer", password: PASSWORD })).status).toBe(303);
    expect((await viewer.get("/")).status).toBe(200);
  });

  it("shows owners what was done about people, by whom and why", async () => {
    const visitor = await signedIn();
    await visitor.post("/people", { name: "Lou Birch", account: "lou", role: "viewer" });
    const page = await visitor.textOf("/people");
    expect(page).toContain("What was done about people and crew links");
    expect(page).toMatch(/Lou Birch[^<]*<span class="under">\d{4}-\d\d-\d\d \d\d:\d\d UTC · /);
  });

  it("does not let the last owner go", async () => {
    const owner = await signedIn();
    const [{ id, version } = { id: 0, version: 0 }] = await people.list();
    const answer = await owner.post(`/people/${id}/disable`, { version: String(version) });
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain("is the last owner who can sign in");
    expect((await owner.get("/people")).status).toBe(200);
  });

  it.each([
    "/people/0/disable",
    "/people/x/role",
    "/people/99999999999999999999/reset-link",
    "/people/1%00/role",
  ])("says that nobody is there for %s", async (path) => {
    const owner = await signedIn();
    expect((await owner.post(path, { role: "viewer", version: "1" })).status).toBe(404);
  });
});

describe("one's own account", () => {
  it("changes the password, ends all other sessions, and stays signed in", async () => {
    const here = await signedIn();
    const there = new Visitor(app);
    await there.post("/sign-in", CREDENTIALS);
    const form = { oldPassword: PASSWORD, password: OTHER_PASSWORD, again: OTHER_PASSWORD };
    const answer = await here.post("/account/password", form);
    expect(answer.status).toBe(200);
    expect(await answer.text()).toContain("The password is changed");
    expect((await here.get("/")).status).toBe(200);
    expect((await there.get("/")).status).toBe(303);
  });

  it("says all that is wrong beside its field, and sends no password back", async () => {
    const here = await signedIn();
    const form = { oldPassword: "old wrong secret", password: "new", again: "new" };
    const answer = await here.post("/account/password", form);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain('id="fault-oldPassword"');
    expect(page).toContain('id="fault-password"');
    expect(page).not.toContain("old wrong secret");
    expect((await here.get("/")).status).toBe(200);
  });
});

describe("a crew link", () => {
  /** Made by a dispatcher on the page of links; gives its path. */
  async function makeLink(dispatcher: Visitor, crew: string, what = "make"): Promise<string> {
    const page = await (await dispatcher.post(`/crew-links/${crew}/${what}`)).text();
    return new URL(/href="(http[^"]+\/link\/[\w-]{43})"/.exec(page)?.[1] ?? "").pathname;
  }

  it("leads a phone to its crew's sheet under an address without the token, and keeps the way open", async () => {
    const link = await makeLink(await signedIn("dispatcher"), "alder");
    const phone = new Visitor(app);
    const answer = await phone.get(link);
    expect([answer.status, answer.headers.get("location")]).toEqual([303, "/crew/alder"]);
    expect(answer.headers.get("cache-control")).toBe("no-store");
    const sheet = await phone.textOf("/crew/alder");
    expect(sheet).toContain("Alder");
    expect(sheet).not.toContain(link);
    expect((await phone.get("/crew/alder/2026-12-10?lang=es")).status).toBe(200);
    expect((await phone.get(`${link}?lang=es`)).headers.get("location")).toBe("/crew/alder?lang=es");
  });

  it("is kept in a cookie that is sent to crews' pages only and ends with the link", async () => {
    const link = await makeLink(await signedIn("dispatcher"), "alder");
    const phone = new Visitor(app);
    await phone.get(link);
    const [cookie] = phone.cookies;
    expect(cookie?.path).toBe("/crew");
    expect(cookie?.attributes).toEqual(expect.arrayContaining(["httponly", "samesite=lax"]));
    const expires = Date.parse(
      cookie?.attributes.find((text) => text.startsWith("expires="))?.slice(8) ?? "",
    );
    expect(expires).toBe(START + 180 * 86_400_000);
    expect((await phone.get("/")).headers.get("location")).toBe("/sign-in");
  });

  it("is kept by TLS only where it came over TLS", async () => {
    const link = await makeLink(await signedIn("dispatcher"), "alder");
    const behindProxy = await start({ trustProxy: 1 });
    try {
      const phone = new Visitor(behindProxy, TLS);
      await phone.get(link);
      expect(phone.cookies[0]?.name).toMatch(/^__Secure-daylap-crew-/);
      expect(phone.cookies[0]?.attributes).toContain("secure");
      expect((await phone.get("/crew/alder")).status).toBe(200);
    } finally {
      await behindProxy.close();
    }
  });

  it("of two crews opens both on one phone, and neither a third", async () => {
    const dispatcher = await signedIn("dispatcher");
    const phone = new Visitor(app);
    for (const crew of ["alder", "birch"]) await phone.get(await makeLink(dispatcher, crew));
    for (const crew of ["alder", "birch"]) expect((await phone.get(`/crew/${crew}`)).status).toBe(200);
    expect((await phone.get("/crew/cedar")).status).toBe(403);
  });

  it.each(["renew", "revoke"])(
    "opens nothing after a %s: a plain page without a word of the plan",
    async (what) => {
      const dispatcher = await signedIn("dispatcher");
      const link = await makeLink(dispatcher, "alder");
      const phone = new Visitor(app);
      await phone.get(link);
      await dispatcher.post(`/crew-links/alder/${what}`);
      const sheet = await phone.get("/crew/alder");
      const page = await sheet.text();
      expect(sheet.status).toBe(403);
      expect(page).toContain("This link opens nothing any more");
      expect(page).not.toContain("Alder");
      const again = await phone.get(link);
      expect([again.status, (await again.text()).includes("This link opens nothing any more")]).toEqual([
        404,
        true,
      ]);
    },
  );

  it.each(["/link/x", `/link/${"a".repeat(43)}`, "/link/%00", "/link/..%2fpeople"])(
    "that never was one opens nothing: %s",
    async (path) => {
      const answer = await new Visitor(app).get(path);
      expect(answer.status).toBe(404);
      expect(answer.headers.getSetCookie()).toEqual([]);
    },
  );

  it("of a crew that the company no longer has opens nothing", async () => {
    await signedIn("dispatcher");
    const by = { personId: null, personName: "The test" };
    const token = good(await people.makePrivateLink("crew", { id: "gone", name: "Gone" }, by));
    expect((await new Visitor(app).get(`/link/${token}`)).status).toBe(404);
  });

  it("is listed by its last four characters, who made it and until when it is good, and never as a whole", async () => {
    const dispatcher = await signedIn("dispatcher");
    const link = await makeLink(dispatcher, "alder");
    const page = await dispatcher.textOf("/crew-links");
    expect(page).toContain(
      `ends in …${link.slice(-4)}, made by Test dispatcher on 7 December 2026, good until 5 June 2027, not used yet`,
    );
    expect(page).not.toContain(link);
  });

  it("is not made twice: the page says that there is one", async () => {
    const dispatcher = await signedIn("dispatcher");
    await makeLink(dispatcher, "alder");
    const answer = await dispatcher.post("/crew-links/alder/make");
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain("Alder has a link already");
    expect((await dispatcher.post("/crew-links/nobody/make")).status).toBe(404);
  });
});
