/** What each address answers, through the shipped app with a desk in memory. */
import { createHash } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startApp, type RunningApp } from "./running-app.js";

const at = (clock: string): number => minuteAt(civilDate("2026-12-07"), clock, "America/New_York");
const deskAt = (clock: string) =>
  makeFakeDesk({ company: decemberCompany(), nowMinute: at(clock), plan: () => decemberPlan() });

let app: RunningApp;
beforeAll(async () => {
  app = await startApp(deskAt("15:10"));
});
afterAll(() => app.close());

const textOf = async (path: string): Promise<string> => (await app.get(path)).text();

describe("the pages", () => {
  it.each([
    ["/", "<h1>Tuesday 8 December</h1>"],
    ["/board/2026-12-10", "<h1>Thursday 10 December</h1>"],
    ["/crew/birch/2026-12-08", "7:10 am"],
    ["/jobs", "27 Wharf Road"],
    ["/jobs/gull-3", "Framing inspection"],
    ["/waiting", "Root: Scratch coat at 27 Wharf Road (Cedar)"],
    ["/holds", "gusts to 38 mph"],
    ["/published", "Nothing is published yet"],
    ["/calls", "No call is left to make."],
    ["/reports", "Reports from site"],
  ])("%s is a page", async (path, content) => {
    const response = await app.get(path);
    expect(response.status).toBe(200);
    expect(response.headers.get("content-type")).toBe("text/html; charset=utf-8");
    expect(await response.text()).toContain(content);
  });

  it("show tomorrow from three in the afternoon on, and today before", async () => {
    const noon = await startApp(deskAt("14:59"));
    try {
      expect(await (await noon.get("/")).text()).toContain("<h1>Monday 7 December</h1>");
      expect(await (await noon.get("/crew/alder")).text()).toContain("<h1>Monday 7 December</h1>");
    } finally {
      await noon.close();
    }
    expect(await textOf("/crew/alder")).toContain("<h1>Tuesday 8 December</h1>");
  });

  it("say so where nobody is called out, and lead to the days around and to the next with work", async () => {
    const page = await textOf("/board/2026-12-09");
    expect(page).toContain("Nobody is called out on Wednesday 9 December.");
    for (const path of ["/board/2026-12-08", "/board/2026-12-10"]) expect(page).toContain(`href="${path}"`);
  });

  it("speak Spanish on the day sheet where the address asks for it, and keep it from day to day", async () => {
    const page = await textOf("/crew/alder/2026-12-08?lang=es");
    expect(page).toContain('<html lang="es">');
    expect(page).toContain("Herramientas abajo");
    expect(page).toContain('href="/crew/alder/2026-12-09?lang=es"');
    expect(page).toContain('href="/crew/alder/2026-12-08"');
  });

  it("show markup in a company's own words as text", async () => {
    const company = decemberCompany();
    const jobs = company.jobs.map((job) => ({ ...job, name: `<b>${job.name}</b>` }));
    const marked = await startApp(
      makeFakeDesk({ company: { ...company, jobs }, nowMinute: at("15:10"), plan: () => decemberPlan() }),
    );
    try {
      for (const path of ["/", "/crew/alder", "/jobs", "/jobs/gull-3", "/waiting", "/holds"]) {
        const page = await (await marked.get(path)).text();
        expect(page).toContain("&lt;b&gt;");
        expect(page).not.toMatch(/<b>(14|3|27|5) /);
      }
    } finally {
      await marked.close();
    }
  });

  it("answer a health check", async () => {
    const response = await app.get("/healthz");
    expect([response.status, await response.text()]).toEqual([200, "ok\n"]);
  });

  it("bring their own style and type, from no other host", async () => {
    const page = await textOf("/");
    const links = [...page.matchAll(/(?:href|src)="([^"#]+)"/g)].map((match) => match[1] ?? "");
    expect(links.filter((link) => !link.startsWith("/"))).toEqual([]);
    const sheets = links.filter((link) => link.endsWith(".css"));
    expect(sheets.length).toBeGreaterThan(1);
    for (const sheet of sheets)
      expect((await app.get(sheet)).headers.get("content-type")).toContain("text/css");
    const face = /url\("(\/static\/fonts\/[^"]+)"\)/.exec(await textOf("/static/base.css"))?.[1] ?? "";
    expect((await app.get(face)).headers.get("content-type")).toBe("font/woff2");
  });
});

describe("an address that leads nowhere", () => {
  it.each([
    ["/board/not-a-date", "&#34;not-a-date&#34; is no date."],
    ["/board/2027-02-29", "&#34;2027-02-29&#34; is no date."],
    ["/crew/unknown", "There is no crew &#34;unknown&#34;. The crews are: Alder, Birch, Cedar, Dune, Elm."],
    ["/crew/alder/tomorrow", "&#34;tomorrow&#34; is no date."],
    ["/jobs/nowhere", "There is no house &#34;nowhere&#34;."],
    ["/no-such-page", "There is no page at /no-such-page."],
    ["/static/..%2f..%2fpackage.json", "There is no page at"],
  ])("%s is not found, and the page says what is wrong", async (path, sentence) => {
    const response = await app.get(path);
    expect(response.status).toBe(404);
    expect(await response.text()).toContain(sentence);
  });

  it("with a broken escape is refused as unreadable", async () => {
    expect((await app.get("/crew/%E0%A4%A")).status).toBe(400);
  });
});

describe("a bug", () => {
  it("is answered with a reference that is in the log, and with nothing of what went wrong", async () => {
    const logged: unknown[][] = [];
    const desk = deskAt("15:10");
    const broken = {
      ...desk,
      current: () => {
        throw new Error("secret detail");
      },
    };
    const failing = await startApp(broken, { log: (...entry) => logged.push(entry) });
    try {
      const response = await failing.get("/");
      const page = await response.text();
      const reference = /<code>([0-9a-f]{8})<\/code>/.exec(page)?.[1];
      expect(response.status).toBe(500);
      expect(page).not.toContain("secret detail");
      expect(logged).toEqual([[reference, new Error("secret detail")]]);
    } finally {
      await failing.close();
    }
  });
});

describe("every answer", () => {
  it.each(["/", "/no-such-page", "/static/no-such-file.css", "/healthz"])(
    "%s carries the security headers",
    async (path) => {
      const { headers } = await app.get(path);
      expect(headers.get("x-content-type-options")).toBe("nosniff");
      expect(headers.get("x-frame-options")).toBe("DENY");
      expect(headers.get("x-powered-by")).toBeNull();
      expect(headers.get("content-security-policy")).toContain(
        "default-src 'self'; script-src 'self'; style-src 'self'",
      );
    },
  );

  it("names in its policy the hash of its own style element, and no other style", async () => {
    // The first time it is made, the second time it is kept.
    for (const _ of [1, 2]) {
      const response = await app.get("/");
      const [, rules = ""] = /<style>([^]*?)<\/style>/.exec(await response.text()) ?? [];
      expect(rules).not.toBe("");
      const hash = createHash("sha256").update(rules).digest("base64");
      expect(response.headers.get("content-security-policy")).toContain(
        `style-src 'self' 'sha256-${hash}'; `,
      );
    }
    const plain = await app.get("/holds");
    expect(plain.headers.get("content-security-policy")).toContain("style-src 'self'; ");
  });

  it("has no style attribute, and no script but files of ours", async () => {
    for (const path of ["/", "/crew/birch", "/waiting", "/jobs/gull-3", "/holds"]) {
      expect(await textOf(path)).not.toMatch(
        / style=|<script(?! src="\/static\/[\w-]{8}\/[a-z-]+\.js" type="module"><\/script>)|\son\w+=/,
      );
    }
  });
});
