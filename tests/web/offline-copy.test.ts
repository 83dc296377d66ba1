/** What the server lets a crew's phone keep, and to whom it offers to work without signal. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { OFFLINE_WORDS } from "../../src/board/offline-words.js";
import { openPeople } from "../../src/services/people.js";
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
    ["/crew/alder/2026-12-08?lang=es", "/crew/alder/2026-12-08"],
    ["/crew/alder/2026-12-07/report", "/crew/alder/2026-12-07/report"],
    ["/crew/alder/2026-12-08/report", "/crew/alder/2026-12-08/report"],
  ])("%s of today or tomorrow may be kept by its phone, under %s", async (path, keptAs) => {
    const answer = await phone.get(path);
    expect(answer.status).toBe(200);
    expect(answer.headers.get("x-kept-as")).toBe(keptAs);
    expect(answer.headers.get("x-kept-stamp")).toMatch(/^[\w-]{12}\.[\w-]{12}\.2026-12-07$/);
    expect(await answer.text()).toContain('class="offline"');
  });

  it.each([
    "/crew/alder/2026-12-06",
    "/crew/alder/2026-12-09",
    "/crew/alder/2026-12-08/print",
    "/crew/birch",
  ])("%s may not be kept", async (path) => {
    expect((await phone.get(path)).headers.has("x-kept-as")).toBe(false);
  });

  it("may not be kept by people of the office, and works for them as ever", async () => {
    for (const path of ["/crew/alder", "/crew/alder/2026-12-08", "/crew/alder/2026-12-08/report", "/"]) {
      const answer = await owner.get(path);
      expect(answer.status).toBe(200);
      expect(answer.headers.has("x-kept-as")).toBe(false);
      const page = await answer.text();
      for (const trace of ["offline.js", 'class="offline"']) expect(page).not.toContain(trace);
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
  const worker = await fetch(`${app.url}/static/offline-worker.js`);
  expect(worker.headers.get("service-worker-allowed")).toBe("/");
  expect(worker.headers.get("content-type")).toMatch(/^text\/javascript/);
  for (const file of ["live.js", "idb/index.js"]) {
    const other = await fetch(`${app.url}/static/${file}`);
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
