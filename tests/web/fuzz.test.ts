/**
 * Ten thousand requests that no page of ours would send (methods, paths, forms, cookies, headers), by everybody. None is
 * answered with a bug, and none does what its sender's role may not.
 */
import { createServer, request, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, expect, it } from "vitest";
import { ROLES } from "../../src/domain/person.js";
import { present } from "../../src/domain/result.js";
import { Random } from "../../src/planner/core/random.js";
import { openCalls } from "../../src/services/calls.js";
import { openDesk, type OpenDesk } from "../../src/services/company-desk.js";
import { openPeople, type People } from "../../src/services/people.js";
import { openPhotos } from "../../src/services/photos.js";
import { openRecord } from "../../src/services/record.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { findAccess, type Asker } from "../../src/web/access.js";
import { createApp } from "../../src/web/app.js";
import { ROUTES } from "../../src/web/paths.js";
import { demoCompany, EVENING } from "../services/demo-company.js";
import { makeTestDatabase, type TestDatabase } from "../support/database.js";
import { CHEAP, COMMAND_LINE, makeMember } from "../support/people.js";
import { sharedRipples } from "../support/shared-ripples.js";
import { Visitor } from "./visitor.js";

const REQUESTS = 10_000;
const AT_ONCE = 8;
const CREW = "alder";

let testDatabase: TestDatabase;
let database: Database;
let desk: OpenDesk;
let people: People;
let server: Server;
let url: string;
/** The cookies of one of each kind of asker. */
const cookies = new Map<Asker, string>();
const bugs: unknown[] = [];

beforeAll(async () => {
  testDatabase = await makeTestDatabase();
  database = openDatabase(testDatabase.url);
  desk = await openDesk(database, { seed: 1, iterations: 0, clock: () => EVENING });
  await desk.load(await demoCompany(), COMMAND_LINE, "");
  people = openPeople(database, { passwordCost: CHEAP });
  const app = createApp(
    {
      desk,
      people,
      record: openRecord(database),
      calls: openCalls(database),
      photos: openPhotos(database),
      reports: openSiteReports(database),
      ripples: sharedRipples(database),
    },
    { log: (_reference, error) => bugs.push(error) },
  );
  server = createServer(app);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A server that listens on a port has an address with a port.
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  for (const role of ROLES) {
    const { token } = await makeMember(people, role);
    cookies.set(role, `daylap-session=${token}`);
  }
  const crewLink = await people.makePrivateLink("crew", { id: CREW, name: "Alder" }, COMMAND_LINE);
  const phone = new Visitor({ url });
  await phone.get(`/link/${present(crewLink.ok ? crewLink.value : undefined, "a crew's link")}`);
  cookies.set("crew-lead", phone.cookies.map(({ name, value }) => `${name}=${value}`).join("; "));
  cookies.set("nobody", "");
});
afterAll(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  await desk.close();
  await database.close();
  await testDatabase.drop();
});

interface Sent {
  readonly asker: Asker;
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

const METHODS = [
  "GET",
  "GET",
  "GET",
  "POST",
  "POST",
  "POST",
  "POST",
  "HEAD",
  "PUT",
  "DELETE",
  "PATCH",
  "OPTIONS",
];
const VALUES = [
  "",
  "0",
  "1",
  "-1",
  "999999999999999",
  "1e9",
  "NaN",
  "alder",
  "hold-1",
  "2026-12-08",
  "2026-02-30",
  "2026-12-08T08:00",
  "9999-12-31T23:59",
  "outdoor",
  "all",
  "some",
  "owner",
  "done",
  "constructor",
  "__proto__",
  "../../etc",
  "'; drop table part; --",
  "<script>alert(1)</script>",
  "%",
  "%00",
  "a%00b",
  "%ff%fe",
  "%ED%A0%80",
  "%F0%9F%8F%A0",
  "%E2%80%AE",
  "%0d%0aSet-Cookie:%20a=b",
  "a%2Fb",
  "%2e%2e%2f",
  "x".repeat(3_000),
];
const FIELDS = [
  "from",
  "to",
  "trades",
  "trade",
  "jobs",
  "job",
  "why",
  "version",
  "account",
  "name",
  "role",
  "password",
  "again",
  "oldPassword",
  "next",
  "status",
  "leftHours",
  "promised",
  "expected",
  "received",
  "digest",
  "token",
  "person",
  "kind",
  "before",
  "lang",
  "from[a]",
  "why[][b]",
  "__proto__[x]",
];
const TYPES = [
  "application/x-www-form-urlencoded",
  "application/x-www-form-urlencoded",
  "application/x-www-form-urlencoded; charset=utf-7",
  "application/json",
  "multipart/form-data; boundary=x",
  "multipart/form-data",
  "text/plain",
  "",
];
/** What a signed-in person would end her own session with. */
const OWN_END: ReadonlySet<string> = new Set([ROUTES.signOut, ROUTES.signOutEverywhere]);

class RequestMaker {
  constructor(private readonly random: Random) {}

  make(): Sent {
    const asker = this.pick([...cookies.keys()]);
    const method = this.pick(METHODS);
    const pattern = this.chance(0.9) ? this.pick(Object.values(ROUTES)) : `/${this.pick(VALUES)}`;
    const path = pattern.replaceAll(/:\w+/g, () => this.pick(VALUES) || "x") + this.query();
    if (OWN_END.has(pattern))
      return { asker: "nobody", method, path, headers: this.headers("nobody"), body: "" };
    const body = method === "GET" || method === "HEAD" ? "" : this.body();
    return { asker, method, path, headers: this.headers(asker), body };
  }

  private query(): string {
    return this.chance(0.2) ? `?${this.pick(FIELDS)}=${this.pick(VALUES)}&${this.pick(VALUES)}` : "";
  }

  private headers(asker: Asker): Record<string, string> {
    const junk = this.chance(0.2)
      ? `; ${this.pick(FIELDS)}="${this.random.below(1e6)}; daylap-crew-x=%00`
      : "";
    return {
      cookie: `${cookies.get(asker) ?? ""}${junk}`,
      "content-type": this.pick(TYPES),
      ...(this.chance(0.8) && { origin: url }),
      ...(this.chance(0.1) && { origin: this.pick(["null", "https://elsewhere.example", "x"]) }),
      ...(this.chance(0.1) && { "sec-fetch-site": this.pick(["cross-site", "same-origin", "none", "x"]) }),
      ...(this.chance(0.1) && { "x-forwarded-for": this.pick(VALUES).slice(0, 50) }),
      ...(this.chance(0.1) && { accept: "application/json", "accept-language": "es;q=x, *" }),
      ...(this.chance(0.05) && { "if-none-match": '"x"', range: "bytes=5-1" }),
    };
  }

  private body(): string {
    if (this.chance(0.05)) return "why=" + "y".repeat(200_000);
    if (this.chance(0.1))
      return this.pick(['{"a":', '--x\r\nContent-Disposition: form-data; name="f"\r\n\r\n', "=&=&&"]);
    const count = this.random.below(8);
    return Array.from({ length: count }, () => `${this.pick(FIELDS)}=${this.pick(VALUES)}`).join("&");
  }

  private pick<T>(list: readonly T[]): T {
    return present(list[this.random.below(list.length)], "an item to pick");
  }

  private chance(share: number): boolean {
    return this.random.next() < share;
  }
}

function send({ method, path, headers, body }: Sent): Promise<{ status: number; location: string }> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(url);
    // As it is, but for what Node itself would not send.
    const sendable = path.replaceAll(/[^\u0021-\u00FF]/g, "+");
    const asked = request({ hostname, port, method, headers, path: sendable, agent: false }, (answer) => {
      const told = { status: answer.statusCode ?? 0, location: answer.headers.location ?? "" };
      answer.resume();
      answer.once("end", () => resolve(told));
      // A stream has no end of its own.
      if (String(answer.headers["content-type"]).startsWith("text/event-stream")) {
        resolve(told);
        asked.destroy();
      }
    });
    // A body that is refused for its length is not read to its end, which its sender may notice first.
    asked.once("error", (error) =>
      body.length > 65_536 ? resolve({ status: 413, location: "" }) : reject(error),
    );
    asked.end(body);
  });
}

/** What is wrong with an answer; undefined where nothing is. */
function findFault({ asker, method, path }: Sent, status: number, location: string): string | undefined {
  if (status >= 500) return `answered with ${status}`;
  const [bare = ""] = path.split("?");
  const rows = findAccess(method, bare);
  const isAllowed = rows.length > 0 && rows.every(({ row }) => row.may.includes(asker));
  const isOwnCrew =
    asker !== "crew-lead" ||
    rows.every(({ row, values }) => row.may.includes("nobody") || values["id"] === CREW);
  if (isAllowed && isOwnCrew) return undefined;
  if (status === 303 && location.startsWith("/sign-in")) return undefined;
  return status < 400 && !bare.startsWith("/static")
    ? `let through with ${status} to ${location}`
    : undefined;
}

it(`${REQUESTS} strange requests meet no bug and cross no role`, async () => {
  const maker = new RequestMaker(new Random(4630));
  const faults: string[] = [];
  let left = REQUESTS;
  const counts = new Map<number, number>();
  await Promise.all(
    Array.from({ length: AT_ONCE }, async () => {
      while (left > 0) {
        left -= 1;
        const sent = maker.make();
        const { status, location } = await send(sent);
        counts.set(status, (counts.get(status) ?? 0) + 1);
        const fault = findFault(sent, status, location);
        if (fault !== undefined)
          faults.push(`${sent.asker} ${sent.method} ${sent.path} ${fault}: ${sent.body}`.slice(0, 400));
      }
    }),
  );
  expect(bugs).toEqual([]);
  expect(faults).toEqual([]);
  // The requests are strange, and yet some of each kind got somewhere.
  for (const status of [200, 303, 403, 404, 422]) expect(counts.get(status)).toBeGreaterThan(0);
  const rows = await database.query<{ name: string }>(
    "select distinct person_name as name from change where version > 1",
  );
  for (const { name } of rows) expect(["Test owner", "Test dispatcher"]).toContain(name);
}, 300_000);
