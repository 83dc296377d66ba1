/** Slips and ways out in forms: what is entered, what comes back, and what is written only when a way is taken. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { EDITED_COMPANY, useEditing, type Editing } from "./editing.js";

const editing = useEditing();
const open = (): Promise<Editing> => editing.open(EDITED_COMPANY);

const HOURS = { slip: "hours-added", task: "harbor-12/t1", how: "more", hours: "20" };
const GOOD: readonly (readonly [what: string, fields: Record<string, string>, sentence: string])[] = [
  ["more hours on a task", HOURS, "Side the front at 12 Harbor Road: 20 labor-hours more"],
  [
    "half of a task left",
    { slip: "hours-added", task: "harbor-12/t2", how: "half", hours: "" },
    "Trim at 12 Harbor Road: half of it is still to do",
  ],
  [
    "a crew out",
    { slip: "day-off-added", crew: "alder", from: "2026-12-07", to: "" },
    "Alder is off Mon 7 Dec: out.",
  ],
  [
    "a delivery moved",
    { slip: "delivery-changed", delivery: "harbor-12/d1", expected: "2026-12-10" },
    "expected day moved from Wed 2 Dec to Thu 10 Dec",
  ],
  [
    "a hold",
    { slip: "hold-added", from: "2026-12-07", to: "2026-12-08", why: "gale" },
    "Hold added: Mon 7 Dec to Tue 8 Dec",
  ],
  [
    "damage found",
    { slip: "task-added", place: "after:harbor-12/t2", trade: "sheathing", hours: "6" },
    "Task added at 12 Harbor Road: Sheathing, found on site, 6 labor-hours, after Trim.",
  ],
  [
    "a promised date",
    { slip: "promise-moved", job: "harbor-12", promised: "2026-12-09" },
    "Promised date of 12 Harbor Road moved from Fri 4 Dec to Wed 9 Dec.",
  ],
  [
    "a house paused",
    { slip: "job-paused", job: "harbor-12", until: "2026-12-14" },
    "12 Harbor Road paused: nothing new begins there before Mon 14 Dec.",
  ],
];
const BAD: readonly (readonly [fields: Record<string, string>, sentence: string, field: string])[] = [
  [{ ...HOURS, task: "" }, "Choose the task that takes longer.", "hours-added-task"],
  [{ ...HOURS, hours: "" }, "Say how many labor-hours come on top.", "hours-added-hours"],
  [{ ...HOURS, hours: "-3" }, "&#34;-3&#34; is no number of hours.", "hours-added-hours"],
  [{ ...HOURS, hours: "0" }, "such as 6 or 4.5", "hours-added-hours"],
  [{ ...HOURS, hours: "99999" }, "Look at the number.", "hours-added-hours"],
  [{ ...HOURS, task: "harbor-12/w1" }, "is a wait: nobody works on it", "hours-added-task"],
  [
    { slip: "day-off-added", crew: "alder", from: "2026-12-01", to: "2026-12-01" },
    "has gone by",
    "day-off-added-to",
  ],
  [
    { slip: "day-off-added", crew: "alder", from: "2026-12-09", to: "2026-12-08" },
    "before they begin",
    "day-off-added-to",
  ],
  [
    { slip: "delivery-changed", delivery: "harbor-12/d1", expected: "soon" },
    "&#34;soon&#34; is no date",
    "delivery-changed-expected",
  ],
  [
    { slip: "delivery-changed", delivery: "harbor-12/d1", expected: "2026-12-01" },
    "has gone by",
    "delivery-changed-expected",
  ],
  [
    { slip: "hold-added", from: "2026-12-08", to: "2026-12-07", why: "rain" },
    "before it begins",
    "hold-added-to",
  ],
  [{ slip: "hold-added", from: "2026-12-08", to: "", why: "" }, "Say why work is held", "hold-added-why"],
  [
    { slip: "task-added", place: "before:harbor-12/t2", trade: "sheathing", hours: "6" },
    "has begun, so nothing can come before it",
    "task-added-place",
  ],
  [
    { slip: "task-added", place: "after:harbor-12/t2", trade: "magic", hours: "6" },
    "There is no trade &#34;magic&#34;",
    "task-added-trade",
  ],
  [
    { slip: "promise-moved", job: "harbor-12", promised: "2026-12-01" },
    "has gone by",
    "promise-moved-promised",
  ],
  [{ slip: "job-paused", job: "harbor-12", until: "2026-12-03" }, "pauses nothing", "job-paused-until"],
  [{ slip: "job-paused", job: "cove-3", until: "2026-12-14" }, "can be paused", "job-paused-job"],
];
const GONE: readonly (readonly [fields: Record<string, string>, sentence: string])[] = [
  [{ ...HOURS, task: "harbor-12/t9" }, "There is no task &#34;t9&#34;"],
  [{ slip: "day-off-added", crew: "larch", from: "2026-12-09", to: "" }, "There is no crew &#34;larch&#34;"],
  [{ slip: "promise-moved", job: "elm-9", promised: "2026-12-09" }, "There is no house &#34;elm-9&#34;"],
];

const ways = (fields: Record<string, string>): string => `/ways?${new URLSearchParams(fields).toString()}`;

/** The fields of the form that takes a way, by the name on its button. */
function takeFields(page: string, name: string): Record<string, string> {
  const forms = page.split('action="/ways/take"').slice(1);
  const form = present(
    forms.find((text) => text.slice(0, text.indexOf("</form>")).includes(name)),
    `the form that says ${name}`,
  );
  const fields = [...form.slice(0, form.indexOf("</form>")).matchAll(/name="([^"]*)" value="([^"]*)"/g)];
  return Object.fromEntries(fields.map(([, key = "", value = ""]) => [key, value.replaceAll("&#34;", '"')]));
}

/** A field that is sent once. */
async function stateOf({ desk, record }: Editing) {
  const { version, source, planId } = desk.current();
  return { version, source, planId, changes: (await record.list({ limit: 100 })).length };
}

describe("a slip", () => {
  it.each(GOOD)("%s opens the ways out of it, and nothing is written", async (_what, fields, sentence) => {
    const house = await open();
    const before = await stateOf(house);
    const response = await house.app.get(ways(fields));
    const page = await response.text();
    expect(response.status).toBe(200);
    expect(page).toContain(sentence);
    expect(page).toContain("Hold the order");
    expect(page).toContain("Promised dates broken");
    expect(await stateOf(house)).toEqual(before);
  });

  it.each(BAD)(
    "%j comes back with its sentence beside the field, and with what was typed",
    async (fields, sentence, field) => {
      const house = await open();
      const response = await house.app.get(ways(fields));
      const page = await response.text();
      expect(response.status).toBe(422);
      const beside = page.slice(page.indexOf(`id="fault-${field}"`));
      expect(page).toContain(`href="#${field}"`);
      expect(beside.slice(0, 400)).toContain(sentence);
      expect(page).toMatch(/<details class="change" open>/);
      for (const typed of Object.values(fields).filter((value) => value !== ""))
        expect(page).toContain(`value="${typed}"`);
    },
  );

  it.each(GONE)("%j is about something that is gone", async (fields, sentence) => {
    const house = await open();
    const response = await house.app.get(ways(fields));
    expect(response.status).toBe(409);
    expect(await response.text()).toContain(sentence);
  });

  it("of no known kind is no slip", async () => {
    const house = await open();
    const response = await house.app.get(ways({ slip: "constructor", task: "x" }));
    expect(response.status).toBe(200);
    expect(await response.text()).toContain("Nothing has slipped.");
  });

  it("begins on the page of a house, with the task filled in", async () => {
    const house = await open();
    const page = await house.page("/jobs/harbor-12");
    const link = present(/href="(\/slip\?slip=hours-added[^"]*t1)"/.exec(page)?.[1], "the link");
    const slip = await house.page(link.replaceAll("&amp;", "&"));
    expect(slip).toContain('<option value="harbor-12/t1" selected>');
    expect(slip).toMatch(/<details class="change" open><summary>A task takes longer/);
  });
});

describe("ways out", () => {
  it("use only what is allowed, and say what is allowed", async () => {
    const house = await open();
    const page = await house.page(ways({ ...HOURS, chosen: "yes" }));
    expect(page.match(/<th scope="col">/g)).toHaveLength(1);
    expect(page).not.toMatch(/name="(resequence|lend|stretch|saturday)" value="[^"]*" checked/);
    expect(await house.page(ways(HOURS))).toMatch(/name="lend" value="yes" checked/);
  });

  it("open one by one, with their board and their difference day by day", async () => {
    const house = await open();
    const page = await house.page(ways(HOURS));
    const link = present(/href="(\/ways\/look[^"]*way=hold)"/.exec(page)?.[1], "the link to a way");
    const way = await house.page(link.replaceAll("&amp;", "&"));
    expect(way).toContain("Way out: Hold the order");
    expect(way).toContain("who was to be where, and who is now");
    expect(way).toContain('class="board"');
    const gone = await house.app.get(link.replaceAll("&amp;", "&").replace("way=hold", "way=boat"));
    expect(gone.status).toBe(404);
    expect(await gone.text()).toContain("There is no such way out any more.");
  });

  it("have a wish by hand in them, or say what forbids it", async () => {
    const house = await open();
    const wish = { wish: "pin-day", wishTask: "harbor-12/t1", wishDate: "2026-12-08" };
    expect(await house.page(ways({ ...HOURS, ...wish }))).toContain(
      "By hand: Side the front at 12 Harbor Road on Tue 8 Dec.",
    );
    const stone = { wish: "pin-crew", wishTask: "harbor-12/t1", wishCrew: "birch" };
    expect(await house.page(ways(stone))).toContain("This cannot be.");
    const empty = await house.app.get(
      ways({ wish: "swap-crews", wishCrew: "alder", wishOther: "alder", wishDate: "2026-12-01" }),
    );
    expect(empty.status).toBe(422);
    const text = await empty.text();
    expect(text).toContain("Choose two different crews.");
    expect(text).toContain("That day has gone by.");
  });
});

describe("a way out", () => {
  it("is taken with its slip, and leads to the calls to make", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways(HOURS)), "Hold the order");
    const sent = await house.post("/ways/take", { ...fields, reason: "said Noor" });
    expect([sent.status, sent.location]).toEqual([303, "/calls"]);
    const [change] = await house.record.list({ limit: 1 });
    expect(change).toMatchObject({ kind: "way-taken", why: "said Noor" });
    expect(house.desk.current().company.published).not.toBeNull();
  });

  it("can be the slip alone", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways(HOURS)), "Record the slip only");
    const sent = await house.post("/ways/take", fields);
    expect([sent.status, sent.location]).toEqual([303, "/"]);
    expect((await house.record.list({ limit: 1 }))[0]).toMatchObject({ kind: "slip-recorded" });
    expect(house.desk.current().company.published).toBeNull();
  });

  it("after somebody else's change is compared again, with all that was entered", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways(HOURS)), "Hold the order");
    await house.casey({ kind: "promise-moved", job: "cove-3", promised: "2026-12-11" });
    const before = await stateOf(house);
    const sent = await house.post("/ways/take", { ...fields, reason: "said Noor" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      "Casey has changed this since you opened the page: Promised date of 3 Cove Street",
    );
    expect(sent.page).toContain("20 labor-hours more");
    expect(await stateOf(house)).toEqual(before);
    // The page has compared again: now it can be taken.
    const again = await house.post("/ways/take", takeFields(sent.page, "Hold the order"));
    expect(again.status).toBe(303);
  });

  it("of a slip that cannot be any more says so", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways({ ...HOURS, task: "harbor-12/t2" })), "Hold the order");
    const done = {
      status: "done",
      leftHours: null,
      doneBy: "alder",
      startedAt: null,
      finishedAt: null,
    } as const;
    await house.casey({ kind: "task-progress", job: "harbor-12", task: "t2", input: done });
    const sent = await house.post("/ways/take", fields);
    expect(sent.status).toBe(422);
    expect(sent.page).toContain("is finished, so it cannot need more hours");
    expect(sent.page).toContain("Casey has changed this since you opened the page");
  });

  it.each(["version", "plan", "asOf", "way", "digest", "publish"])(
    "without its %s is not taken",
    async (missing) => {
      const house = await open();
      const { [missing]: _, ...fields } = takeFields(await house.page(ways(HOURS)), "Hold the order");
      const before = await stateOf(house);
      const sent = await house.post("/ways/take", fields);
      expect(sent.status).toBe(409);
      expect(sent.page).toContain("This form does not say what it was made for");
      expect(await stateOf(house)).toEqual(before);
    },
  );

  it.each([{ digest: "forged" }, { way: "by-boat" }, { plan: "999" }, { asOf: "1" }])(
    "with %j put into its form is not taken",
    async (forged) => {
      const house = await open();
      const fields = takeFields(await house.page(ways(HOURS)), "Hold the order");
      const sent = await house.post("/ways/take", { ...fields, ...forged });
      expect(sent.status).toBe(409);
      expect(sent.page).toContain("compared again here");
    },
  );

  it("with a reason that cannot be kept comes back", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways(HOURS)), "Hold the order");
    const sent = await house.post("/ways/take", { ...fields, reason: "x".repeat(2_001) });
    expect(sent.status).toBe(422);
    expect(sent.page).toContain("must be at most 2,000 characters");
  });

  it("is not taken by a form of another site", async () => {
    const house = await open();
    const fields = takeFields(await house.page(ways(HOURS)), "Hold the order");
    const response = await house.app.post("/ways/take", fields, { origin: "https://elsewhere.example" });
    expect(response.status).toBe(403);
  });
});
