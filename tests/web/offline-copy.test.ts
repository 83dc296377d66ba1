/** What the server lets a crew's phone keep, and to whom it offers to work without signal. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { OFFLINE_WORDS } from "../../src/board/offline-words.js";
import { openPeople } from "../../src/services/people.js";
import { paths } from "../../src/web/paths.js";
import { COMMAND_LINE, CHEAP, good, makeMember } from "../support/people.js";
import { startDemoServer, type TestServer } from "../support/server.js";
import { Visitor } from "./visitor.js";

let app: TestServer;
let phone: Visitor;
let owner: Visitor;
beforeAll(async () => {
  app = await startDemoServer("2026-12-07T15:10", {});
  const people = openPeople(app.database, { passwordCost: CHEAP });
  phone = new Visitor(app);
  await phone.get(
    `/link/${good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, COMMAND_LINE))}`,
  );
  owner = new Visitor(app);
  const { token } = await makeMember(people, "owner");
  owner.hold({ name: "daylap-session", value: token, path: "/", attributes: [] });
});
afterAll(() => app.stop());

describe("a page of a crew", () => {
  it.each([
    ["/crew/alder", "/crew/alder/2026-12-08"],
    ["/crew/alder/2026-12-07", "/crew/alder/2026-12-07"],
    ["/crew/alder/2026-12-08?lang=en", "/crew/alder/2026-12-08"],
    ["/crew/alder/2026-12-08?lang=es", "/crew/alder/2026-12-08?lang=es"],
    ["/crew/alder/2026-12-07/report", "/crew/alder/2026-12-07/report"],
    ["/crew/alder/2026-12-08/report", "/crew/alder/2026-12-08/report"],
    ["/crew/alder/2026-12-08/report?lang=es", "/crew/alder/2026-12-08/report?lang=es"],
    ["/crew/alder/photos", "/crew/alder/photos"],
    ["/crew/alder/photos?lang=es", "/crew/alder/photos?lang=es"],
  ])("%s of today or tomorrow may be kept by its phone, under %s", async (path, keptAs) => {
    const answer = await phone.get(path);
    expect(answer.status).toBe(200);
    expect(answer.headers.get("x-kept-as")).toBe(keptAs);
    expect(answer.headers.get("content-language")).toBe(path.endsWith("lang=es") ? "es" : "en");
    expect(answer.headers.get("x-kept-stamp")).toMatch(/^[\w-]{12}\.[\w-]{12}\.2026-12-07$/);
    expect(await answer.text()).toContain('class="offline"');
  });

  it.each([
    "/crew/alder/2026-12-06",
    "/crew/alder/2026-12-09",
    "/crew/alder/2026-12-08/print",
    "/crew/alder/photos?date=2026-12-08",
    "/crew/alder/photos?report=5c1f0a2e-6a0b-4a57-9d6e-0a9a3a8f6f11&job=gull-3",
    "/crew/birch",
  ])("%s may not be kept", async (path) => {
    expect((await phone.get(path)).headers.has("x-kept-as")).toBe(false);
  });

  it("has its phone keep the sheets, reports and photos of both days in both languages, its own first", async () => {
    const keptBy = async (path: string): Promise<unknown> => {
      const [, list = ""] = /data-keep="([^"]*)"/.exec(await phone.textOf(path)) ?? [];
      return JSON.parse(list.replaceAll("&#34;", '"'));
    };
    const days = ["2026-12-07", "2026-12-08"].map((day) => `/crew/alder/${day}`);
    const own = [...days, ...days.map((day) => `${day}/report`), "/crew/alder/photos"];
    const other = own.map((path) => `${path}?lang=es`);
    expect(await keptBy("/crew/alder")).toEqual([...own, ...other]);
    expect(await keptBy("/crew/alder/photos?lang=es&date=2026-12-08")).toEqual([...other, ...own]);
    // Each of them is one that the server lets it keep under just that address.
    for (const path of [...own, ...other])
      expect((await phone.get(path)).headers.get("x-kept-as")).toBe(path);
  });

  it("for photos offers what the crew works on on both days where the address names none", async () => {
    const page = await phone.textOf("/crew/alder/photos");
    const dated = await Promise.all(
      ["2026-12-07", "2026-12-08"].map((day) => phone.textOf(`/crew/alder/photos?date=${day}`)),
    );
    const choicesOf = (html: string) =>
      [...html.matchAll(/<option value="([^"]+)"/g)].map(([, value]) => value);
    expect(choicesOf(dated[1] ?? "").length).toBeGreaterThan(0);
    expect(choicesOf(page)).toEqual(expect.arrayContaining(dated.flatMap(choicesOf)));
  });

  it("may not be kept by people of the office, and works for them as ever", async () => {
    const pages = ["", "/2026-12-08", "/2026-12-08/report", "/photos"].map((rest) => `/crew/alder${rest}`);
    for (const path of [...pages, "/"]) {
      const answer = await owner.get(path);
      expect(answer.status).toBe(200);
      expect(answer.headers.has("x-kept-as")).toBe(false);
      const page = await answer.text();
      for (const trace of ["offline.js", "report-form.js", 'class="offline"'])
        expect(page).not.toContain(trace);
    }
  });

  it("is the same page however often it is asked for, marked or not", async () => {
    await owner.get("/crew/alder/2026-12-08");
    const marks: (string | null)[] = [];
    for (let times = 0; times < 2; times += 1) {
      marks.push((await phone.get("/crew/alder/2026-12-08")).headers.get("x-kept-as"));
    }
    expect(marks).toEqual(["/crew/alder/2026-12-08", "/crew/alder/2026-12-08"]);
  });
});

it("the worker alone may stand in front of pages outside its folder", async () => {
  const worker = await fetch(app.url + paths.file("offline-worker.js"));
  expect(worker.headers.get("service-worker-allowed")).toBe("/");
  expect(worker.headers.get("content-type")).toMatch(/^text\/javascript/);
  for (const file of ["live.js", "idb/index.js"]) {
    const other = await fetch(app.url + paths.file(file));
    expect(other.status).toBe(200);
    expect(other.headers.has("service-worker-allowed")).toBe(false);
  }
});

it("what scripts fill in stands in both languages", () => {
  const blanks = (text: string): readonly string[] => text.match(/\{\w+\}/g) ?? [];
  for (const [name, sentence] of Object.entries(OFFLINE_WORDS.en.script)) {
    const spanish = Object.entries(OFFLINE_WORDS.es.script).find(([key]) => key === name)?.[1] ?? "";
    expect(blanks(spanish), name).toEqual(blanks(sentence));
  }
});
