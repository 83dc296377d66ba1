/** The page of the record: reading it, choosing from it, taking changes back; and the page of kept plans. */
import { describe, expect, it } from "vitest";
import { EDITED_COMPANY, useEditing, type Editing } from "./editing.js";

const editing = useEditing();

/** A company of which Robin has moved a promise, and Casey has given days off, moved it again and lifted a hold. */
async function openUsed(): Promise<Editing> {
  const house = await editing.open(EDITED_COMPANY);
  await house.post("/jobs/harbor-12/promised", {
    version: "1",
    promised: "2026-12-08",
    reason: "windows late",
  });
  await house.casey({
    kind: "day-off-added",
    crew: "birch",
    input: { from: "2026-12-10", to: "2026-12-10", why: "" },
  });
  await house.casey({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-09" });
  await house.casey({ kind: "hold-lifted", id: "wet" });
  return house;
}

/** The sentences on a page, in order. */
const sentencesOn = (page: string): readonly string[] =>
  [...page.matchAll(/<h2>(.*?)<\/h2>/g)]
    .map(([, sentence = ""]) => sentence)
    .filter((text) => text !== "Nothing was changed");

const LIFTED = "Hold lifted: Wednesday 9 December, all day, outdoor work at every house: rain.";
const MOVED_AGAIN = "Promised date of 12 Harbor Road moved from Tue 8 Dec to Wed 9 Dec.";
const DAY_OFF = "Birch is off Thu 10 Dec.";
const MOVED = "Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec.";
const LOADED = "Company file of Tern Rock Exteriors loaded.";

describe("the record", () => {
  it("tells every change, the newest first: who, when, what and why, before and after", async () => {
    const house = await openUsed();
    const page = await house.page("/record");
    expect(sentencesOn(page)).toEqual([LIFTED, MOVED_AGAIN, DAY_OFF, MOVED, LOADED]);
    expect(page).toContain("Thu 3 Dec 2026, 4:00 pm · Robin · promised date moved · change 2");
    expect(page).toContain("Why: windows late");
    expect(page).toContain(
      '<th scope="row">Promised date</th><td>Fri 4 Dec 2026</td><td>Tue 8 Dec 2026</td>',
    );
    expect(page).toContain("House: 12 Harbor Road");
  });

  it("shows what was chosen: a person, a kind, a house, a crew, days", async () => {
    const house = await openUsed();
    const shown = async (query: string): Promise<readonly string[]> =>
      sentencesOn(await house.page(`/record?${query}`));
    expect(await shown("person=Casey")).toEqual([LIFTED, MOVED_AGAIN, DAY_OFF]);
    expect(await shown("kind=promise-moved")).toEqual([MOVED_AGAIN, MOVED]);
    expect(await shown("thing=job/harbor-12")).toEqual([MOVED_AGAIN, MOVED, LOADED]);
    expect(await shown("thing=crew/birch&person=Casey")).toEqual([DAY_OFF]);
    expect(await shown("from=2026-12-03&to=2026-12-03")).toHaveLength(5);
    expect(await shown("from=2026-12-04")).toEqual([]);
    expect(await shown("to=2026-12-02")).toEqual([]);
    expect(await shown("before=3")).toEqual([MOVED, LOADED]);
    expect(await shown("person=Nobody%00&kind=%00&thing=job/%00&before=x")).toEqual([]);
  });

  it("says what is wrong with a day", async () => {
    const house = await openUsed();
    for (const [query, sentence] of [
      ["from=soon", "This is no date."],
      ["to=9999-12-31", "This is no date."],
      ["from=2026-12-03&to=2026-12-01", "The last day, 2026-12-01, is before the first"],
    ] as const) {
      const response = await house.app.get(`/record?${query}`);
      expect(response.status).toBe(422);
      expect(await response.text()).toContain(sentence);
    }
  });

  it("goes on to older changes where there are many", async () => {
    const house = await editing.open(EDITED_COMPANY);
    for (let day = 5; day < 31; day += 1) {
      const promised = `2026-12-${String(day).padStart(2, "0")}`;
      await house.casey({ kind: "promise-moved", job: "cove-3", promised });
    }
    const first = await house.page("/record");
    expect(sentencesOn(first)).toHaveLength(25);
    expect(first).toContain('href="/record?before=3"');
    const second = await house.page("/record?before=3");
    expect(sentencesOn(second)).toEqual(["Promised date of 3 Cove Street set to Sat 5 Dec.", LOADED]);
    expect(second).not.toContain("Older changes");
  }, 120_000);
});

describe("taking a change back", () => {
  it("puts back what it changed, with a reason, and is itself on record", async () => {
    const house = await openUsed();
    const sent = await house.post("/record/5/undo", { reason: "still wet", query: "person=Casey" });
    expect([sent.status, sent.location]).toEqual([303, "/record?person=Casey"]);
    expect(house.desk.current().company.holds).toHaveLength(1);
    const page = await house.page("/record");
    expect(sentencesOn(page)[0]).toBe(`Taken back: ${LIFTED}`);
    expect(page).toContain("Why: still wet");
    expect(page).toContain("This has been taken back, by change 6.");
  });

  it("is offered only where nothing has written over it since", async () => {
    const page = await (await openUsed()).page("/record");
    const offered = [...page.matchAll(/action="\/record\/(\d+)\/undo"/g)].map(([, version]) => version);
    expect(offered).toEqual(["5", "4", "3"]);
    expect(page).toContain("What this wrote has been changed since, so it cannot be taken back.");
    expect(page).toContain("The first company file cannot be taken back.");
  });

  it("is refused with the sentence of the house, and keeps the reason that was typed", async () => {
    const house = await openUsed();
    const sent = await house.post("/record/2/undo", { reason: "was wrong" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      `This change cannot be taken back: what it wrote has been changed since (by Casey: ${MOVED_AGAIN})`,
    );
    expect(house.desk.current().company.jobs[0]?.promised).toBe("2026-12-09");
  });

  it("is refused where there is no such change, or the reason cannot be kept", async () => {
    const house = await openUsed();
    expect((await house.post("/record/99/undo", {})).status).toBe(409);
    expect((await house.post("/record/none/undo", {})).status).toBe(404);
    const sent = await house.post("/record/5/undo", { reason: "\u0000" });
    expect(sent.status).toBe(422);
    expect(sent.page).toContain("The reason must not contain control characters");
    expect(house.desk.current().version).toBe(5);
  });

  it("by a form from elsewhere changes nothing", async () => {
    const house = await openUsed();
    const response = await house.app.post("/record/5/undo", {}, { origin: "https://elsewhere.example" });
    expect(response.status).toBe(403);
    expect(house.desk.current().version).toBe(5);
  });
});

describe("the kept plans", () => {
  it("are listed with what it takes to make them again", async () => {
    const page = await (await openUsed()).page("/plans");
    expect([...page.matchAll(/<tr><th scope="row">(\d+)/g)].map(([, id]) => id)).toEqual([
      "5",
      "4",
      "3",
      "2",
      "1",
    ]);
    expect(page).toContain("Thu 3 Dec 2026, 4:00 pm");
    expect(page).toContain("<td>plan 4</td>");
  });
});
