/** Publishing, releasing, undoing and calling by form: what is answered, what the pages then say, and what is refused. */
import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { aJob, aTask } from "../support/company-builder.js";
import { PUBLISHED_COMPANY } from "../support/published-company.js";
import { useEditing, versionIn, type Editing } from "./editing.js";

const editing = useEditing();

const AWAY = {
  kind: "day-off-added",
  crew: "alder",
  input: { from: "2026-12-07", to: "2026-12-08", why: "training" },
} as const;

const valueIn = (page: string, action: string, name: string): string => {
  const form = page.slice(page.indexOf(`action="${action}"`));
  return present(
    new RegExp(`name="${name}" value="([^"]*)"`).exec(form)?.[1],
    `${name} in the form to ${action}`,
  );
};
const text = (page: string): string =>
  page
    .replaceAll(/<[^>]+>/g, "")
    .replaceAll("&#34;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll(/\s+/g, " ");
const planOn = async (house: Editing): Promise<string> =>
  valueIn(await house.page("/"), "/published", "plan");
async function publish(house: Editing, reason = ""): Promise<void> {
  const answer = await house.post("/published", { plan: await planOn(house), reason });
  expect(answer.status).toBe(303);
}

describe("the board", () => {
  it("says that nothing is published while nothing is, and offers to publish", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const page = await house.page("/");
    expect(text(page)).toContain("Nothing is published yet: all of this is a forecast.");
    expect(page).toContain("Publish this plan");
    expect(page).not.toContain("Undo the last publish");
    expect(text(await house.page("/crew/alder"))).toContain(
      "nothing is published yet, and this day may still change",
    );
  });

  it("publishes and says by whom, when and why; crews read that their day holds", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const answer = await house.post("/published", {
      plan: await planOn(house),
      reason: "agreed",
      back: "2026-12-04",
    });
    expect(answer).toMatchObject({ status: 303, location: "/board/2026-12-04#published" });
    const page = await house.page("/board/2026-12-04");
    expect(text(page)).toContain("This day is as published. Published Thu 3 Dec, 4:00 pm by Robin: agreed");
    expect(page).toContain("Undo the last publish");
    expect(text(await house.page("/crew/alder/2026-12-04"))).toContain("Published: this day holds.");
    expect(text(await house.page("/crew/alder/2026-12-07"))).toContain(
      "Forecast: this day may still change.",
    );
    expect(text(await house.page("/crew/alder/2026-12-04?lang=es"))).toContain(
      "Publicado: este día es firme.",
    );
  });

  it("tells what has drifted since, with the old day, the new one and the reason", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    await house.casey(AWAY);
    const moved =
      "Side the front at 14 Spruce Lane: published Mon 7 Dec, now Wed 9 Dec — Alder is off Mon 7 Dec: training";
    expect(text(await house.page("/board/2026-12-07"))).toContain(moved);
    expect(text(await house.page("/board/2026-12-04"))).not.toContain(moved);
    const page = text(await house.page("/published"));
    expect(page).toContain(moved);
    expect(page).toContain("14 Spruce Lane, promised Tue 8 Dec: kept as published, now 2 days late");
  });
});

describe("a publish by form", () => {
  it("of a plan that stands no more is refused with what was changed and by whom, and keeps the reason", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const plan = await planOn(house);
    await house.casey(AWAY);
    const answer = await house.post("/published", { plan, reason: "as agreed with Noor" });
    expect(answer.status).toBe(409);
    expect(text(answer.page)).toContain("Casey has changed this since you opened the page: Alder is off");
    expect(answer.page).toContain('value="as agreed with Noor"');
    expect(house.desk.current().company.published).toBeNull();
  });

  it.each([{}, { plan: "" }, { plan: "x" }, { plan: "-1" }, { plan: "1e3" }, { plan: "9".repeat(30) }])(
    "that names no plan (%o) does nothing",
    async (fields) => {
      const house = await editing.open(PUBLISHED_COMPANY);
      const answer = await house.post("/published", fields);
      expect(answer.status).toBe(409);
      expect(text(answer.page)).toContain("does not say what it was made for");
      expect(house.desk.current().company.published).toBeNull();
    },
  );

  it("of a plan that never was does nothing", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const answer = await house.post("/published", { plan: "999999" });
    expect(answer.status).toBe(409);
    expect(text(answer.page)).toContain("There is no such plan any more");
  });

  it("twice publishes once", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const plan = await planOn(house);
    const answers = [await house.post("/published", { plan }), await house.post("/published", { plan })];
    expect(answers.map(({ status }) => status)).toEqual([303, 409]);
    expect(house.desk.current().version).toBe(2);
  });

  it("with a reason beyond measure comes back with it beside the field", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const answer = await house.post("/published", { plan: await planOn(house), reason: "x".repeat(2_001) });
    expect(answer.status).toBe(422);
    expect(answer.page).toContain('id="fault-publish-reason"');
  });

  it("goes on to no address of another site", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const answer = await house.post("/published", { plan: await planOn(house), back: "//elsewhere.example" });
    expect(answer.location).toBe("/published");
  });

  it("is taken from no other site", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    const response = await house.app.post(
      "/published",
      { plan: await planOn(house) },
      { origin: "https://elsewhere.example" },
    );
    expect(response.status).toBe(403);
    expect(house.desk.current().company.published).toBeNull();
  });
});

describe("the undo of a publish", () => {
  it("puts back what was published before, and is no longer offered", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    const page = await house.page("/");
    const version = versionIn(page, "/published/undo");
    expect(
      (await house.post("/published/undo", { version, reason: "too soon", back: "2026-12-04" })).location,
    ).toBe("/board/2026-12-04#published");
    expect(house.desk.current().company.published).toBeNull();
    expect(await house.page("/")).not.toContain("Undo the last publish");
  });

  it("that another publish has overtaken does nothing, and says so", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    const version = versionIn(await house.page("/"), "/published/undo");
    await house.casey(AWAY);
    await publish(house, "again");
    const answer = await house.post("/published/undo", { version, reason: "too soon" });
    expect(answer.status).toBe(409);
    expect(text(answer.page)).toContain("What is published now is another one, by Robin");
    expect(answer.page).toContain('value="too soon"');
    expect(house.desk.current().publication?.version).toBe(4);
  });

  it.each([{}, { version: "x" }, { version: "1" }, { version: "77" }])(
    "without its version (%o) does nothing",
    async (fields) => {
      const house = await editing.open(PUBLISHED_COMPANY);
      await publish(house);
      expect((await house.post("/published/undo", fields)).status).toBe(409);
      expect(house.desk.current().publication?.version).toBe(2);
    },
  );

  it("is not offered once a sheet has been released", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    await house.casey({ kind: "sheet-released", crew: "alder", date: "2026-12-04" });
    expect(await house.page("/published")).not.toContain("Undo the last publish");
  });
});

describe("a day sheet that is held", () => {
  it("is released and kept again by form; board and phone say so", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    const fields = { crew: "alder", date: "2026-12-04" };
    const released = await house.post("/published/release", {
      ...fields,
      wish: "release",
      version: versionIn(await house.page("/published"), "/published/release"),
    });
    expect(released).toMatchObject({ status: 303, location: "/published#sheets" });
    expect(text(await house.page("/board/2026-12-04"))).toContain("released: may move");
    expect(text(await house.page("/crew/alder/2026-12-04"))).toContain("the office has released this day");
    const kept = await house.post("/published/release", {
      ...fields,
      wish: "keep",
      version: versionIn(await house.page("/published"), "/published/release"),
    });
    expect(kept.status).toBe(303);
    expect(text(await house.page("/crew/alder/2026-12-04"))).toContain("Published: this day holds.");
  });

  it("that somebody else has released meanwhile: told who", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    const version = versionIn(await house.page("/published"), "/published/release");
    await house.casey({ kind: "sheet-released", crew: "alder", date: "2026-12-04" });
    const answer = await house.post("/published/release", {
      crew: "alder",
      date: "2026-12-04",
      wish: "release",
      version,
    });
    expect(answer.status).toBe(409);
    expect(text(answer.page)).toContain(
      "Casey has changed this since you opened the page: Day sheet of Alder for Fri 4 Dec released",
    );
  });

  it.each([
    [{ crew: "elm" }, 409, 'There is no crew "elm" any more.'],
    [{ date: "2026-12-01" }, 409, "has gone by"],
    [{ date: "2026-12-09" }, 409, "is not held yet"],
    [{ date: "tomorrow" }, 422, "This is no date"],
    [{ crew: "birch" }, 409, "No day sheet of Birch is published"],
    [{ wish: "keep" }, 409, "is kept already"],
    [{ wish: "both" }, 409, "does not say what it was made for"],
    [{ version: "" }, 409, "does not say what it was made for"],
  ])("is not released by a form with %o", async (wrong, status, sentence) => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    const version = versionIn(await house.page("/published"), "/published/release");
    const answer = await house.post("/published/release", {
      crew: "alder",
      date: "2026-12-04",
      wish: "release",
      version,
      ...wrong,
    });
    expect(answer.status).toBe(status);
    expect(text(answer.page)).toContain(sentence);
    expect(house.desk.current().version).toBe(2);
  });

  it("is what the crew reads, whatever the office has planned since, until another one is published", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    await house.casey({
      kind: "day-off-added",
      crew: "alder",
      input: { from: "2026-12-04", to: "2026-12-04", why: "flu" },
    });
    const sheet = text(await house.page("/crew/alder/2026-12-04"));
    expect(sheet).toContain("12 Harbor Road");
    expect(sheet).toContain("until it publishes that one, go by this sheet");
    expect(text(await house.page("/board/2026-12-04"))).toContain(
      "Side the front at 12 Harbor Road: published Fri 4 Dec, now Mon 7 Dec",
    );
    await publish(house);
    expect(text(await house.page("/crew/alder/2026-12-04"))).toContain(
      "Alder is not called out that day: flu.",
    );
  });

  /** Birch's stone comes after Alder's siding, on the same Friday. */
  const oneAfterTheOther = (published: CompanyInput["published"] = null): CompanyInput => ({
    ...PUBLISHED_COMPANY,
    jobs: [
      aJob({
        tasks: [
          aTask({ id: "t1", laborHours: 9 }),
          aTask({ id: "t2", trade: "stone", title: "Set stone", laborHours: 6, after: [{ task: "t1" }] }),
        ],
      }),
    ],
    published,
  });
  const PIECE = { crew: "birch", kind: "work", job: "spruce-14", task: "t2", units: null } as const;

  it.each([
    ["the whole day", oneAfterTheOther(), "10:20 am Set stone"],
    [
      "a piece of work in a company file",
      oneAfterTheOther([{ ...PIECE, start: "2026-12-04T11:00", end: "2026-12-04T13:30" }]),
      "11:00 am Set stone",
    ],
  ])("is not moved by the report of another crew, where %s is published", async (_what, company, work) => {
    const house = await editing.open(company);
    if (company.published === null) await publish(house);
    const orderOf = (page: string): string => text(/<ol class="overview">.*?<\/ol>/s.exec(page)?.[0] ?? "");
    const before = text(await house.page("/crew/birch/2026-12-04"));
    expect(before).not.toContain("another plan");
    const said = { key: randomUUID(), kind: "hours-left", hours: "40", date: "2026-12-03", seen: "1" };
    const answer = await house.post("/crew/alder/reports", { ...said, job: "spruce-14", task: "t1" });
    expect(answer.status).toBe(303);
    const after = await house.page("/crew/birch/2026-12-04");
    expect(text(after)).toContain("The office has another plan for this day by now");
    expect(text(after)).toContain("Published: this");
    expect(orderOf(after)).toContain(work);
  });
});

describe("the page of calls", () => {
  async function withCalls(): Promise<Editing> {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    await house.casey(AWAY);
    await publish(house);
    return house;
  }

  it("is empty until a publish moves a date", async () => {
    const house = await editing.open(PUBLISHED_COMPANY);
    await publish(house);
    expect(text(await house.page("/calls"))).toContain("No call is left to make.");
  });

  it("lists whom to call, with the dates and what to say, and nobody else's house", async () => {
    const page = await (await withCalls()).page("/calls");
    expect(text(page)).toContain("3 calls are to be made.");
    expect(text(page)).toContain("Siding: was Mon 7 Dec now Wed 9 Dec");
    expect(text(page)).toContain(
      "The siding at your house begins Wednesday 9 December instead of Monday 7 December, because the crew is not at work that day.",
    );
    expect(page).not.toContain("12 Harbor Road");
  });

  it("ticks a call off with who and when, and takes the tick away", async () => {
    const house = await withCalls();
    const ticked = await house.post("/calls/1/tick", { publish: "4" });
    expect(ticked).toMatchObject({ status: 303, location: "/calls?publish=4#call-1" });
    const page = text(await house.page("/calls"));
    expect(page).toContain("2 calls are to be made.");
    expect(page).toContain("Made Thu 3 Dec, 4:00 pm by Robin.");
    expect((await house.post("/calls/1/untick", {})).status).toBe(303);
    expect(text(await house.page("/calls"))).toContain("3 calls are to be made.");
  });

  it("says so where a call has been made, opened or withdrawn by somebody else meanwhile", async () => {
    const house = await withCalls();
    await house.post("/calls/1/tick", {});
    const again = await house.post("/calls/1/tick", {});
    expect(again.status).toBe(409);
    expect(text(again.page)).toContain("has been made already: Thu 3 Dec, 4:00 pm by Robin.");
    expect((await house.post("/calls/2/untick", {})).status).toBe(409);
    await house.post("/published/undo", { version: "4" });
    const withdrawn = await house.post("/calls/2/tick", {});
    expect(withdrawn.status).toBe(409);
    expect(text(withdrawn.page)).toContain("needless by now");
    expect(text(await house.page("/calls"))).toContain(
      "again. The change that we told you of has been taken back.",
    );
  });

  it.each(["0", "99", "x", "1.5", "-1", "9".repeat(40)])("knows no call %s", async (call) => {
    const house = await withCalls();
    const answer = await house.post(`/calls/${call}/tick`, {});
    expect(answer.status).toBe(404);
    expect(text(answer.page)).toContain("There is no call");
  });

  it("shows the calls of one publish where one is chosen", async () => {
    const house = await withCalls();
    expect(text(await house.page("/calls?publish=4"))).toContain("Homeowner, 14 Spruce Lane");
    expect(text(await house.page("/calls?publish=2"))).not.toContain("Homeowner");
    expect(text(await house.page("/calls?publish=x"))).toContain("Homeowner");
  });
});
