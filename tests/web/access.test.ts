/** Who may ask what: the table has every route, every route is in the table, and the app does what the table says. */
import { readFile } from "node:fs/promises";
import type { Express } from "express";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ROLES, type Person, type Role } from "../../src/domain/person.js";
import { present } from "../../src/domain/result.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import type { Desk } from "../../src/services/desk.js";
import { openPeople, type People } from "../../src/services/people.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { ACCESS, EVERYBODY, findAccess, mayAsk, type AccessRow, type Asker } from "../../src/web/access.js";
import { createApp } from "../../src/web/app.js";
import { ROUTES } from "../../src/web/paths.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { makeTestDatabase, type TestDatabase } from "../support/database.js";
import { CHEAP, COMMAND_LINE, good, makeMember } from "../support/people.js";
import { makeFakeDesk } from "./fake-desk.js";
import { peopleWithoutDatabase, startAppWith, type RunningApp } from "./running-app.js";
import { Visitor } from "./visitor.js";

const aDesk = (): Desk =>
  makeFakeDesk({
    company: decemberCompany(),
    nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
    plan: () => decemberPlan(),
  });

/** Every method and pattern that express listens on, as "GET /holds". */
function listRegistered(app: Express): readonly string[] {
  interface Layer {
    readonly route?: { readonly path: string; readonly methods: Readonly<Record<string, boolean>> };
    readonly handle?: { readonly stack?: readonly Layer[] };
  }
  const listIn = (stack: readonly Layer[]): readonly string[] =>
    stack.flatMap(({ route, handle }) => {
      if (route === undefined) return listIn(handle?.stack ?? []);
      return Object.keys(route.methods).map((method) => `${method.toUpperCase()} ${route.path}`);
    });
  // Proof of the cast: the parts of express's own list of layers that are read here, checked to be there by the test below.
  return listIn((app.router as unknown as { readonly stack: readonly Layer[] }).stack);
}

describe("the access table", () => {
  it("has a row for every route that the app listens on, and none for any other", () => {
    const registered = listRegistered(createApp({ desk: aDesk(), people: peopleWithoutDatabase() }));
    expect(registered).toContain("POST /holds");
    const rows = ACCESS.map(({ method, route }) => `${method} ${ROUTES[route]}`);
    expect(registered.toSorted()).toEqual(rows.toSorted());
  });

  it("opens to nobody who is not signed in more than what lets people in and what machines ask", () => {
    const open = ACCESS.filter(({ may }) => may.includes("nobody"));
    expect(open.map(({ method, route }) => `${method} ${route}`).toSorted()).toEqual([
      "GET crewLink",
      "GET feed",
      "GET health",
      "GET houseLink",
      "GET invitation",
      "GET metrics",
      "GET ready",
      "GET signIn",
      "POST invitation",
      "POST signIn",
    ]);
    for (const { may } of open) expect(may).toEqual(EVERYBODY);
  });

  it("opens to crew leads nothing but the pages of a crew that the address names", () => {
    const own = ACCESS.filter(({ may }) => may.includes("crew-lead") && !may.includes("nobody"));
    expect(own.map(({ route }) => ROUTES[route])).toEqual([
      "/crew/:id/live",
      "/crew/:id",
      "/crew/:id/:date",
      "/crew/:id/:date/print",
      "/crew/:id/:date/report",
      "/crew/:id/reports",
      "/crew/:id/reports",
      "/crew/:id/photos",
      "/crew/:id/photos",
      "/crew/:id/photos/:photo",
      "/crew/:id/photos/:photo/small",
    ]);
  });

  it("lets no viewer change anything but her own account, and an owner do everything", () => {
    const changes = ACCESS.filter(({ method, may }) => method === "POST" && may.includes("viewer"));
    expect(changes.map(({ route }) => route).toSorted()).toEqual([
      "changePassword",
      "invitation",
      "signIn",
      "signOut",
      "signOutEverywhere",
    ]);
    for (const { may } of ACCESS) expect(may).toContain("owner");
  });

  it("finds a row by method and path, with what stands in the place of its names", () => {
    const [match] = findAccess("HEAD", "/crew/a%20b/2026-12-08/");
    expect(match).toMatchObject({ row: { route: "crewDay" }, values: { id: "a b", date: "2026-12-08" } });
    for (const [method, path] of [
      ["GET", "/crew/"],
      ["GET", "/crew//2026-12-08"],
      ["GET", "/Holds"],
      ["PUT", "/holds"],
      ["OPTIONS", "/holds"],
      ["POST", "/waiting"],
    ] as const) {
      expect(findAccess(method, path)).toEqual([]);
    }
  });

  it("is asked by every page about what it offers: templates name only routes that there are", async () => {
    const names = await listNamedInTemplates();
    expect(names.length).toBeGreaterThan(5);
    for (const { method, route } of names) {
      expect(ACCESS.some((row) => row.method === method && row.route === route)).toBe(true);
    }
  });
});

async function listNamedInTemplates(): Promise<readonly { method: string; route: string }[]> {
  const files = ["partials/masthead", "pages/error", "pages/holds", "pages/board"];
  const texts = await Promise.all(
    files.map((file) => readFile(new URL(`../../views/${file}.ejs`, import.meta.url), "utf8")),
  );
  return texts.flatMap((text) =>
    [...text.matchAll(/may\("(GET|POST)", "(\w+)"\)/g)].map(([, method = "", route = ""]) => ({
      method,
      route,
    })),
  );
}

describe("every route, asked by everybody", () => {
  const askers: readonly Asker[] = EVERYBODY;
  const cases = ACCESS.flatMap((row) => askers.map((asker) => ({ row, asker, name: nameOf(row) })));

  let testDatabase: TestDatabase;
  let database: Database;
  let people: People;
  let app: RunningApp;
  let tokens: Readonly<Record<Role, string>>;
  let crewToken: string;
  beforeAll(async () => {
    testDatabase = await makeTestDatabase();
    database = openDatabase(testDatabase.url);
    people = openPeople(database, { passwordCost: CHEAP });
    // A second owner, so that an owner may be disabled.
    await makeMember(people, "owner", "second-owner");
    const made = await Promise.all(
      ROLES.map(async (role) => [role, (await makeMember(people, role)).token] as const),
    );
    tokens = Object.fromEntries(made) as Record<Role, string>;
    crewToken = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE));
    app = await startAppWith({ desk: aDesk(), people });
  });
  afterAll(async () => {
    await app.close();
    await database.close();
    await testDatabase.drop();
  });

  /** A browser of that role. The phone of the crew sends its cookie everywhere, which a real one does not. */
  async function visitorOf(asker: Asker): Promise<Visitor> {
    const visitor = new Visitor(app);
    if (asker === "crew-lead") {
      await visitor.get(`/link/${crewToken}`);
      for (const cookie of visitor.cookies) visitor.hold({ ...cookie, path: "/" });
      expect(visitor.cookies).toHaveLength(1);
    } else if (asker !== "nobody") {
      visitor.hold({ name: "daylap-session", value: tokens[asker], path: "/", attributes: [] });
    }
    return visitor;
  }

  /** Real values in the places of the names, and a form that does no harm: whether it is let through is the question. */
  function addressOf({ route }: AccessRow): string {
    const values: Readonly<Record<string, string>> = {
      date: "2026-12-08",
      token: "no-such-token",
      id: idFor(ROUTES[route]),
    };
    return ROUTES[route].replaceAll(/:(\w+)/g, (_, name: string) => values[name] ?? "none");
  }

  it.each(cases)("$name: $asker gets what the table says", async ({ row, asker }) => {
    const visitor = await visitorOf(asker);
    const address = addressOf(row);
    const response = await (row.method === "GET" ? visitor.get(address) : visitor.post(address));
    const page = await textOf(response);
    if (mayAsk(asker, row.method, row.route)) {
      // Answered by the route itself, with whatever it says to an empty form or a token that does not exist.
      expect([200, 303, 404, 409, 422]).toContain(response.status);
      for (const refusal of ["not for your role", "There is no page at"]) expect(page).not.toContain(refusal);
      const isSignOut = row.route === "signOut" || row.route === "signOutEverywhere";
      expect(response.headers.get("location") ?? "").not.toMatch(isSignOut ? /next=/ : /sign-in/);
      if (isSignOut) await renewToken(asker);
    } else if (asker === "nobody") {
      expect(response.status).toBe(303);
      expect(response.headers.get("location")).toMatch(/^\/sign-in(\?next=%2F[^/]|$)/);
      expect(page).not.toContain("Wharf Road");
    } else {
      expect(response.status).toBe(403);
      expect(page).toContain(asker === "crew-lead" ? "your own crew, and nothing else" : "not for your role");
      for (const secret of ["Wharf Road", "second-owner"]) expect(page).not.toContain(secret);
    }
  });

  /** A sign-out is answered by ending the session: the cases after it need another one. */
  async function renewToken(asker: Asker): Promise<void> {
    const role = present(
      ROLES.find((known) => known === asker),
      "the role that signed out",
    );
    const request = { account: role, password: "sparrow lantern gravel", address: "192.0.2.1" };
    tokens = { ...tokens, [role]: good(await people.signIn(request)).token };
  }

  it.each(["/crew/birch", "/crew/birch/2026-12-08", "/crew/nobody-s-crew"])(
    "a crew's link does not open %s of another crew, and shows nothing of the plan",
    async (path) => {
      const visitor = await visitorOf("crew-lead");
      const response = await visitor.get(path);
      const page = await response.text();
      expect(response.status).toBe(403);
      expect(page).not.toContain("Birch");
      expect(page).not.toContain("<nav");
    },
  );

  it.each(["PUT", "PATCH", "DELETE", "OPTIONS"])("nothing answers to %s, whoever asks", async (method) => {
    for (const token of [tokens.owner, "nobody"]) {
      const headers = { cookie: `daylap-session=${token}`, origin: app.url };
      for (const path of ["/no-such-page", "/people/1", "/holds", "/healthz"]) {
        const answer = await fetch(app.url + path, { method, headers, redirect: "manual" });
        expect(answer.status).toBe(405);
        expect(answer.headers.get("allow")).toBe("GET, HEAD, POST");
      }
    }
  });

  it.each(["GET", "HEAD", "POST"])("what is in no row is not found, by %s, whoever asks", async (method) => {
    for (const token of [tokens.owner, tokens.viewer, "nobody"]) {
      const headers = { cookie: `daylap-session=${token}`, origin: app.url };
      for (const path of ["/no-such-page", "/people/1", "/crew-links/alder", "/link/a/b"]) {
        expect((await fetch(app.url + path, { method, headers, redirect: "manual" })).status).toBe(404);
      }
    }
  });

  it.each(ACCESS.filter(({ method }) => method === "POST").map((row) => ({ row, name: nameOf(row) })))(
    "$name takes no form from elsewhere, not even from an owner",
    async ({ row }) => {
      for (const claimed of [
        { origin: "https://elsewhere.example" },
        { origin: "null" },
        { "sec-fetch-site": "cross-site", origin: app.url },
        {},
      ] as const) {
        const headers = { cookie: `daylap-session=${tokens.owner}`, ...claimed };
        const response = await app.post(addressOf(row), {}, headers);
        expect(response.status).toBe(403);
        expect(await response.text()).toContain("This form was not sent from a page of this app");
      }
      expect(await people.session(tokens.owner)).toBeDefined();
    },
  );
});

it("nobody is let through where it cannot be found out who asks", async () => {
  const app = await startAppWith(
    { desk: aDesk(), people: peopleWithoutDatabase() },
    { log: () => undefined },
  );
  try {
    const cookies = [`daylap-session=${"a".repeat(43)}`, `daylap-crew-0=${"a".repeat(43)}`];
    for (const cookie of cookies) {
      const response = await app.get("/crew/alder", { cookie });
      expect(response.status).toBeGreaterThanOrEqual(500);
      expect(await response.text()).not.toContain("Alder");
    }
  } finally {
    await app.close();
  }
});

const DEMO_PERSON: Person = {
  id: 0,
  name: "Demo",
  account: "demo",
  role: "owner",
  version: 1,
  hasPassword: false,
  isDisabled: false,
};

describe("the demo", () => {
  it("takes whoever has opened a crew's link for that crew's phone, on its pages and as long as the link is good", async () => {
    const made = await makeTestDatabase();
    const database = openDatabase(made.url);
    const people = openPeople(database, { passwordCost: CHEAP });
    const app = await startAppWith({ desk: aDesk(), people }, { automatic: DEMO_PERSON });
    const alder = { id: "alder", name: "Alder" };
    try {
      const visitor = new Visitor(app);
      const isPhone = async (path: string) => (await visitor.textOf(path)).includes('class="offline"');
      expect(await isPhone("/crew/alder")).toBe(false);
      await visitor.get(`/link/${good(await people.makePrivateLink("crew", alder, COMMAND_LINE))}`);
      for (const rest of ["", "/2026-12-08", "/2026-12-08/report", "/photos"]) {
        expect(await isPhone(`/crew/alder${rest}`), rest).toBe(true);
      }
      expect(await visitor.textOf("/crew/alder")).not.toContain("This crew is out");
      expect(await isPhone("/crew/birch")).toBe(false);
      expect(await visitor.textOf("/crew/birch")).toContain("This crew is out");
      expect(await visitor.textOf("/")).toContain("Demo (owner)");
      good(await people.revokePrivateLink("crew", alder, COMMAND_LINE));
      expect(await isPhone("/crew/alder")).toBe(false);
      expect((await visitor.get("/crew/alder")).status).toBe(200);
    } finally {
      await app.close();
      await database.close();
      await made.drop();
    }
  });

  it("answers under no other name than its own machine's", async () => {
    const app = await startAppWith(
      { desk: aDesk(), people: peopleWithoutDatabase() },
      { automatic: DEMO_PERSON },
    );
    try {
      // fetch does not let a header name another host.
      const { request } = await import("node:http");
      const statusFor = (host: string): Promise<number | undefined> =>
        new Promise((resolve, reject) => {
          const asked = request(app.url, { headers: { host } }, (response) => {
            response.resume();
            resolve(response.statusCode);
          });
          asked.on("error", reject);
          asked.end();
        });
      expect(await statusFor("127.0.0.1:4630")).toBe(200);
      expect(await statusFor("localhost")).toBe(200);
      expect(await statusFor("elsewhere.example")).toBe(403);
      expect(await statusFor("127.0.0.1.elsewhere.example")).toBe(403);
    } finally {
      await app.close();
    }
  });

  it("has no account to look after and offers none", async () => {
    const app = await startAppWith(
      { desk: aDesk(), people: peopleWithoutDatabase() },
      { automatic: DEMO_PERSON },
    );
    try {
      expect((await app.get("/account")).status).toBe(403);
      expect((await app.post("/sign-out", {})).status).toBe(403);
      const board = await (await app.get("/")).text();
      expect(board).toContain("Demo (owner)");
      expect(board).not.toContain("Sign out");
    } finally {
      await app.close();
    }
  });
});

/** What is answered; of a stream, which has no end, its beginning. */
async function textOf(response: Response): Promise<string> {
  if (!(response.headers.get("content-type") ?? "").startsWith("text/event-stream")) return response.text();
  const reader = present(response.body, "a stream").getReader();
  const { value } = await reader.read();
  await reader.cancel();
  return new TextDecoder().decode(value);
}

function idFor(pattern: string): string {
  if (pattern.startsWith("/people")) return "999999";
  if (pattern.startsWith("/jobs")) return "gull-3";
  // Not the crew whose own link asks: that one is to stay good.
  return pattern.startsWith("/crew-links") ? "birch" : "alder";
}

function nameOf({ method, route }: AccessRow): string {
  return `${method} ${ROUTES[route]}`;
}
