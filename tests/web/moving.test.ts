/** Work moved by hand through the pages: what is shown before, what is made, and what becomes of it. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate, civilDateAt, parseInstant } from "../../src/domain/time.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { ROBIN } from "../support/desk.js";
import { useEditing, type Editing } from "./editing.js";
import { MOVING_COMPANY } from "./moving-company.js";

const editing = useEditing();
const MOVE = "/jobs/cove-3/tasks/back/move";
const MONDAY = { crew: "birch", date: "2026-12-07", place: "first" };
const query = (wish: Readonly<Record<string, string>>): string => `?${new URLSearchParams(wish).toString()}`;

/** "alder 2026-12-04": with whom and on which day the plan begins a task. */
function placeOf(desk: OpenDesk, task: string): string {
  const entry = present(
    desk.current().plan.tasks.find((one) => one.task === task),
    task,
  );
  const start = present(parseInstant(entry.start, "UTC"), "its start");
  return `${entry.crew ?? ""} ${civilDateAt(start, "America/New_York")}`;
}

/** The hidden fields of the form that makes a move, as the page has them. */
async function fieldsOf(open: Editing, wish: Readonly<Record<string, string>>, path = MOVE) {
  const html = await open.page(path + query(wish));
  const form = html.slice(html.indexOf('method="post" action="/jobs/'));
  return Object.fromEntries(
    [...form.matchAll(/type="hidden" name="(\w+)" value="([^"]*)"/g)].map(([, name = "", value = ""]) => [
      name,
      value,
    ]),
  );
}

describe("the board", () => {
  it("has a menu for each block of work, with the crews that can do it, and says why others stay", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const html = await open.page("/board/2026-12-04");
    const menus = html.slice(html.indexOf('id="move"'), html.indexOf('id="published"'));
    expect(menus).toMatch(/Move to…<span class="move-what"> Side the back at 3 Cove Street \(Alder\)/);
    expect(menus).toContain('<option value="birch">Birch</option>');
    expect(menus).not.toContain("Cedar");
    expect(menus).toMatch(
      /Side the dormer at 12 Harbor Road<\/strong> \(Alder\) stays\. It is under way with Alder/,
    );
    expect(html).toMatch(/data-job="cove-3" data-task="back">[^]*?<a class="pick" href="#move-\d"/);
  });
});

describe("before anything is changed", () => {
  it("the page says where to, what it costs, and which promised date it breaks", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk } = open;
    const version = desk.current().version;
    const html = await open.page(MOVE + query(MONDAY));
    expect(html).toContain("Now: Alder, Fri 4 Dec.");
    expect(html).toContain("To Birch, Monday 7 December, first");
    expect(html).toMatch(/Cost of the whole plan: [\d,]+ now, [\d,]+ with it: [\d,]+ (more|less)\./);
    expect(html).toContain("No promised date is broken or saved.");
    const late = await open.page(`/jobs/harbor-12/tasks/front/move${query({ ...MONDAY, crew: "alder" })}`);
    expect(late).toContain(
      "Breaks a promised date: 12 Harbor Road, promised for Friday 4 December, 3 days late.",
    );
    expect(desk.current().version).toBe(version);
  });

  it("a rule that forbids it is named, and nothing is offered but another place", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const saturday = await open.page(MOVE + query({ ...MONDAY, date: "2026-12-05" }));
    expect(saturday).toContain("Birch has no shift on Saturday 5 December.");
    expect(saturday).not.toContain("Do it");
    const stone = await open.page(MOVE + query({ ...MONDAY, crew: "cedar" }));
    expect(stone).toContain("Cedar does not do siding. Crews that do: Alder, Birch.");
    const begun = await open.page(`/jobs/harbor-12/tasks/begun/move${query(MONDAY)}`);
    expect(begun).toContain(
      "It is under way with Alder, and what is begun stays with its crew and comes first.",
    );
    const past = await open.page(MOVE + query({ ...MONDAY, date: "2026-12-02" }));
    expect(past).toContain("Wednesday 2 December has gone by.");
  });

  it.each([
    [{ ...MONDAY, crew: "elm" }, "Choose a crew that there is."],
    [{ ...MONDAY, date: "2026-02-30" }, "Choose a day"],
    [{ ...MONDAY, place: "between" }, "Choose a place in the day"],
    [{}, "Choose a crew that there is."],
  ])("a wish that cannot be read is answered with what to choose (%o)", async (wish, sentence) => {
    const { app } = await editing.open(MOVING_COMPANY);
    const response = await app.get(MOVE + query(wish));
    expect(response.status).toBe(422);
    expect(await response.text()).toContain(sentence);
    expect((await app.get(`/jobs/cove-3/tasks/none/move${query(MONDAY)}`)).status).toBe(404);
  });

  it("whoever drags is told the same in a few words", async () => {
    const { app } = await editing.open(MOVING_COMPANY);
    const ask = async (wish: Readonly<Record<string, string>>): Promise<unknown> =>
      (await app.get(`${MOVE}/price${query(wish)}`)).json();
    expect(await ask(MONDAY)).toMatchObject({
      isPossible: true,
      words: expect.stringMatching(
        /^Birch, Monday 7 December, first: possible, moves nothing else\. Cost [\d,]+ now/,
      ),
      plan: expect.stringMatching(/^\d+$/),
    });
    expect(await ask({ ...MONDAY, crew: "cedar" })).toEqual({
      isPossible: false,
      words:
        "Cedar, Monday 7 December, first: not possible. Cedar does not do siding. Crews that do: Alder, Birch.",
    });
    expect(await ask({})).toMatchObject({ isPossible: false });
  });
});

describe("a move that is made", () => {
  it("leaves exactly the plan that was shown, writes the wish, and is on record with its reason", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk, record } = open;
    expect(placeOf(desk, "back")).toBe("alder 2026-12-04");
    const wish = {
      job: "cove-3",
      task: "back",
      crew: "birch",
      date: civilDate("2026-12-07"),
      place: { kind: "first" },
    } as const;
    const shown = await desk.planMove(wish);
    const answer = await open.post(MOVE, {
      ...(await fieldsOf(open, MONDAY)),
      reason: "Alder is needed at the harbor",
    });
    expect(answer).toMatchObject({ status: 303, location: "/board/2026-12-07" });
    expect(placeOf(desk, "back")).toBe("birch 2026-12-07");
    expect(desk.current().plan.cost.total).toBe(shown.ok ? shown.value.found.costAfter : NaN);
    const task = desk.current().company.jobs[1]?.tasks[0];
    expect(task).toMatchObject({ crew: "birch", notBefore: "2026-12-07" });
    const [change] = await record.list({ limit: 1 });
    expect(change).toMatchObject({
      kind: "task-moved",
      personName: "Robin",
      sentence: "Side the back at 3 Cove Street moved from Alder, Fri 4 Dec to Birch, Mon 7 Dec.",
      why: "Alder is needed at the harbor",
    });
  });

  it("in the order of one day is kept although it costs more", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk } = open;
    const orderOf = (): readonly string[] => [
      ...new Set(
        desk
          .current()
          .plan.blocks.flatMap(({ kind, crew, task }) =>
            kind === "work" && crew === "alder" && task !== null ? [task] : [],
          ),
      ),
    ];
    const [begun, second = "", third = ""] = orderOf();
    expect(begun).toBe("begun");
    const jobOf = (task: string): string => (task === "back" ? "cove-3" : "harbor-12");
    const path = `/jobs/${jobOf(third)}/tasks/${third}/move`;
    const wish = { crew: "alder", date: "2026-12-04", place: `before:${jobOf(second)}/${second}` };
    const fields = await fieldsOf(open, wish, path);
    expect((await open.post(path, fields)).status).toBe(303);
    expect(orderOf()).toEqual([begun, third, second]);
    // And back again, which writes nothing but the order.
    const back = { ...wish, place: `after:${jobOf(second)}/${second}` };
    expect((await open.post(path, await fieldsOf(open, back, path))).status).toBe(303);
    expect(orderOf()).toEqual([begun, second, third]);
  });

  it("is taken back through the record, and the plan is what it was", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk } = open;
    const before = desk.current().plan;
    await open.post(MOVE, await fieldsOf(open, MONDAY));
    const { version } = desk.current();
    expect((await desk.undo(version, ROBIN, "")).ok).toBe(true);
    expect(desk.current().plan).toEqual(before);
    expect(desk.current().company.jobs[1]?.tasks[0]).toMatchObject({ crew: "alder", notBefore: null });
  });

  it("is not made where somebody has changed the plan since: it says who, keeps the reason and shows what it means now", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk } = open;
    const fields = await fieldsOf(open, MONDAY);
    await open.casey({ kind: "promise-moved", job: "cove-3", promised: "2026-12-18" });
    const answer = await open.post(MOVE, { ...fields, reason: "customer asked" });
    expect(answer.status).toBe(409);
    expect(answer.page).toContain(
      "Casey has changed this since you opened the page: Promised date of 3 Cove Street",
    );
    expect(answer.page).toContain('value="customer asked"');
    expect(placeOf(desk, "back")).toBe("alder 2026-12-04");
    const again = /name="plan" value="(\d+)"/.exec(answer.page)?.[1];
    expect(again).toBe(String(desk.current().planId));
  });

  it("is not made where it would not be what was shown, or nothing was shown", async () => {
    const open = await editing.open(MOVING_COMPANY);
    const { desk } = open;
    const fields = await fieldsOf(open, MONDAY);
    const { version, nowMinute } = desk.current();
    for (const wrong of [
      { digest: "x".repeat(22) },
      { plan: "" },
      { asOf: String(nowMinute - 90) },
      { asOf: String(nowMinute + 5) },
      { date: "2026-12-05" },
    ]) {
      const answer = await open.post(MOVE, { ...fields, ...wrong });
      expect(answer.status).toBe(409);
      expect(answer.page).toContain("Nothing was moved");
    }
    expect(desk.current().version).toBe(version);
  });
});
