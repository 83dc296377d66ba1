/** The files of pages on their way to a phone: packed, without what a phone has no use for, and asked for once. */
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { askRaw } from "../support/raw-answer.js";
import { paths } from "../../src/web/paths.js";
import { withoutComments } from "../../src/web/shipped-files.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startApp, type RunningApp } from "./running-app.js";

let app: RunningApp;
beforeAll(async () => {
  app = await startApp(
    makeFakeDesk({ company: decemberCompany(), nowMinute: 0, plan: () => decemberPlan() }),
  );
});
afterAll(() => app.close());

describe("a file under the stamp of all files", () => {
  it.each(["base.css", "live.js", "idb/index.js", "icon.svg"])(
    "%s is never asked for again by whoever has it, and comes again unchanged to whoever asks all the same",
    async (name) => {
      const answer = await app.get(paths.file(name));
      expect(answer.status).toBe(200);
      expect(answer.headers.get("cache-control")).toBe("public, max-age=31536000, immutable");
      const seen = { "if-none-match": answer.headers.get("etag") ?? "", "cache-control": "max-age=0" };
      expect((await askRaw(app.url, paths.file(name), seen)).status).toBe(304);
    },
  );

  it("has the same text packed or not, and is the smaller the better it is packed", async () => {
    const ask = (encoding: string) => askRaw(app.url, paths.file("live.js"), { "accept-encoding": encoding });
    const [plain, gzip, brotli] = [await ask("identity"), await ask("gzip, deflate"), await ask("gzip, br")];
    expect(gunzipSync(gzip.body)).toEqual(plain.body);
    expect(brotliDecompressSync(brotli.body)).toEqual(plain.body);
    expect(gzip.body.length).toBeLessThan(plain.body.length / 2);
    expect(brotli.body.length).toBeLessThan(gzip.body.length);
  });

  it("carries the headers that mean something on it, and no more", async () => {
    const { headers } = await askRaw(app.url, paths.file("day-sheet.css"), { "accept-encoding": "br" });
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(Object.keys(headers).toSorted()).toEqual([
      "cache-control",
      "connection",
      "content-encoding",
      "content-length",
      "content-type",
      "date",
      "etag",
      "keep-alive",
      "vary",
      "x-content-type-options",
    ]);
  });
});

it("under the stamp of another version, or under none, a file is as it is now, and asked for each time", async () => {
  const now = await (await app.get(paths.file("base.css"))).text();
  for (const path of ["/static/base.css", "/static/AAAAAAAA/base.css"]) {
    const answer = await app.get(path);
    expect(answer.headers.get("cache-control")).toBe("no-cache");
    expect(await answer.text()).toBe(now);
  }
});

it("the worker is not there under the stamp of another version, whose parts the browser may still have", async () => {
  expect((await app.get("/static/AAAAAAAA/offline-worker.js")).status).toBe(404);
  expect((await app.get("/static/offline-worker.js")).status).toBe(200);
});

it("the worker goes by the policy of pages, and the icon, opened as a page, may do nothing", async () => {
  const worker = await app.get(paths.file("offline-worker.js"));
  expect(worker.headers.get("content-security-policy")).toContain("default-src 'self'; script-src 'self'");
  const icon = await app.get(paths.file("icon.svg"));
  expect(icon.headers.get("content-security-policy")).toBe("default-src 'none'");
});

it.each([
  "/static/nothing.css",
  "/static/AAAAAAAA/../../package.json",
  "/static/pictures/board.png",
  "/static/",
])("%s is not found", async (path) => expect((await app.get(path)).status).toBe(404));

describe("comments", () => {
  it("that have their lines to themselves are for whoever reads the source, and are not sent", () => {
    const script = "/*\n * What it does.\n */\n// Why.\nconst a = 1;\n  /** Of b. */\n  const b = 2;\n";
    expect(withoutComments(script, ".js")).toBe("const a = 1;\n  const b = 2;\n");
    expect(withoutComments("/* Paper. */\na { color: #fff; }\n", ".css")).toBe("a { color: #fff; }\n");
  });

  it("beside something else stay, and so does what only looks like one", () => {
    const script = 'const a = "// b"; // c\n/* d */ const e = 1;\nconst f = "https://example.com"; /* g */\n';
    expect(withoutComments(script, ".js")).toBe(script);
    const sheet = "/* a */ b { color: red; }\nc { color: blue; } /* d */\n";
    expect(withoutComments(sheet, ".css")).toBe(sheet);
  });
});
