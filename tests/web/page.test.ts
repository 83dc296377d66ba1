/** Pages on their way out: packed once where they are finished, and a template that fails is told as a bug. */
import { brotliDecompressSync } from "node:zlib";
import express from "express";
import { describe, expect, it } from "vitest";
import { minuteAt, civilDate } from "../../src/domain/time.js";
import { errorPage } from "../../src/web/error-pages.js";
import { renderPage } from "../../src/web/page.js";
import { paths } from "../../src/web/paths.js";
import { VIEWS_FOLDER } from "../../src/web/shipped-files.js";
import { NOBODY } from "../../src/web/who.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { askRaw } from "../support/raw-answer.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startApp } from "./running-app.js";

describe("a finished page", () => {
  it("is the same packed or not, the first time and each time after it", async () => {
    const app = await startApp(
      makeFakeDesk({
        company: decemberCompany(),
        nowMinute: minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York"),
        plan: () => decemberPlan(),
      }),
    );
    try {
      const path = "/crew/birch/2026-12-08";
      const plain = await askRaw(app.url, path);
      expect(plain.headers["content-encoding"]).toBeUndefined();
      for (const _ of [1, 2]) {
        const packed = await askRaw(app.url, path, { "accept-encoding": "gzip, deflate, br" });
        expect(packed.headers).toMatchObject({ "content-encoding": "br", vary: "Accept-Encoding" });
        expect(brotliDecompressSync(packed.body)).toEqual(plain.body);
        expect(packed.bytes).toBeLessThan(plain.bytes / 2);
      }
    } finally {
      await app.close();
    }
  });
});

it("a template that fails is answered with a reference that is in the log", async () => {
  const logged: unknown[] = [];
  const app = express();
  app.set("view engine", "ejs");
  app.set("views", VIEWS_FOLDER);
  Object.assign(app.locals, { paths, productName: "Daylap", who: NOBODY, may: () => false, openReports: 0 });
  // There is no job to show.
  app.get("/", (_req, res) => renderPage(res, "job", { title: "A house", view: undefined }));
  app.use(errorPage((reference) => logged.push(reference)));
  const server = app.listen(0, "127.0.0.1");
  try {
    await new Promise((resolve) => server.once("listening", resolve));
    const address = server.address();
    const port = typeof address === "object" && address !== null ? address.port : 0;
    const answer = await fetch(`http://127.0.0.1:${port}/`);
    expect(answer.status).toBe(500);
    const [, reference] = /<code>([0-9a-f]{8})<\/code>/.exec(await answer.text()) ?? [];
    expect(logged).toEqual([reference]);
  } finally {
    await new Promise((resolve) => server.close(resolve));
  }
});
