/**
 * What a day sheet weighs on its way to a crew's phone, fonts apart: page, styles, scripts, icon and service worker, as
 * they come over the wire. What the phone fetches beforehand to keep it are other pages.
 */
import { request } from "node:http";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, expect, it } from "vitest";
import { addDays, civilDate } from "../../src/domain/time.js";
import { present } from "../../src/domain/result.js";
import { openPeople } from "../../src/services/people.js";
import { CHEAP, COMMAND_LINE, good } from "../support/people.js";
import { startDemoServer, type TestServer } from "../support/server.js";

const MOST_BYTES = 40_000;

let app: TestServer;
beforeAll(async () => {
  app = await startDemoServer("2026-12-07T15:10", {});
});
afterAll(() => app.stop());

interface Answer {
  readonly status: number;
  readonly encoding: string;
  readonly body: Buffer;
}

/** As a browser asks, with the bytes as they come: fetch would unpack them. */
function ask(path: string, cookie = ""): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request(app.url + path, { headers: { "accept-encoding": "gzip", cookie } }, (answer) => {
      const parts: Buffer[] = [];
      answer.on("data", (part: Buffer) => parts.push(part));
      answer.on("error", reject);
      answer.on("end", () =>
        resolve({
          status: answer.statusCode ?? 0,
          encoding: answer.headers["content-encoding"] ?? "",
          body: Buffer.concat(parts),
        }),
      );
    });
    asked.on("error", reject);
    asked.end();
  });
}

const textOf = ({ encoding, body }: Answer): string =>
  (encoding === "gzip" ? gunzipSync(body) : body).toString("utf8");

/** Every file that a text names, fonts apart: of a page its links, scripts and worker, of a script its imports. */
function listNamed(text: string): readonly string[] {
  const named = [...text.matchAll(/(?:href|src|data-worker)="(\/static\/[^"]+)"|from "\.\/([^"]+)"/g)];
  return named.map(([, file, imported]) => file ?? `/static/${imported ?? ""}`);
}

const cookies = new Map<string, Promise<string>>();

/** The cookie of a phone that has opened the crew's link. */
function cookieOf(crew: string): Promise<string> {
  const known = cookies.get(crew) ?? openLink(crew);
  cookies.set(crew, known);
  return known;
}

async function openLink(crew: string): Promise<string> {
  const people = openPeople(app.database, { passwordCost: CHEAP });
  const token = good(await people.makePrivateLink("crew", { id: crew, name: crew }, COMMAND_LINE));
  const answer = await fetch(`${app.url}/link/${token}`, { redirect: "manual" });
  return (answer.headers.get("set-cookie") ?? "").split(";")[0] ?? "";
}

it("every sheet of the demo's next week is at most 40 kB with all that it loads, in both languages", async () => {
  const sizes: [string, number][] = [];
  const crews = app.desk.current().company.crews.map(({ id }) => id);
  for (const crew of crews) {
    const cookie = await cookieOf(crew);
    for (let ahead = 0; ahead < 7; ahead += 1) {
      for (const language of ["en", "es"]) {
        const path = `/crew/${crew}/${addDays(civilDate("2026-12-07"), ahead)}?lang=${language}`;
        const page = await ask(path, cookie);
        expect(page.status).toBe(200);
        const toLoad = new Set(listNamed(textOf(page)));
        let bytes = page.body.length;
        for (const file of toLoad) {
          const loaded = await ask(file);
          expect(loaded.status).toBe(200);
          bytes += loaded.body.length;
          if (file.endsWith(".js")) for (const named of listNamed(textOf(loaded))) toLoad.add(named);
        }
        for (const file of ["day-sheet.css", "idb/index.js", "offline-worker.js", "kept-pages.js"]) {
          expect([...toLoad]).toContain(`/static/${file}`);
        }
        sizes.push([path, bytes]);
      }
    }
  }
  const largest = present(sizes.toSorted((a, b) => b[1] - a[1])[0], "a sheet");
  expect(largest[1], `${largest[0]} is ${largest[1]} bytes`).toBeLessThanOrEqual(MOST_BYTES);
});

it("streams are not held back to be packed", async () => {
  const headers = { "accept-encoding": "gzip", cookie: await cookieOf("alder") };
  const answer = await fetch(`${app.url}/crew/alder/live`, { headers });
  expect(answer.status).toBe(200);
  expect(answer.headers.get("content-encoding")).toBeNull();
  await answer.body?.cancel();
});
