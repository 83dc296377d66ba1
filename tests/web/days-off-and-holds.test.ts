/** Days off of a crew and changes of a hold, by form. */
import { describe, expect, it } from "vitest";
import { EDITED_COMPANY, useEditing, versionIn, type Editing } from "./editing.js";

const ALDER = "/crews/alder/days-off";
const WET = "/holds/wet";

const editing = useEditing();
const open = (): Promise<Editing> => editing.open(EDITED_COMPANY);
const offOf = ({ desk }: Editing) => desk.current().company.crews[0]?.off;
const holdOf = ({ desk }: Editing) => desk.current().company.holds[0];

describe("days off", () => {
  it("are added, shown with the crews, and taken away again", async () => {
    const house = await open();
    const version = versionIn(await house.page(ALDER), ALDER);
    const added = await house.post(ALDER, { version, from: "2026-12-10", to: "2026-12-10", why: "wedding" });
    expect([added.status, added.location]).toEqual([303, ALDER]);
    expect(await house.page("/crews")).toContain("Thursday 10 December; Thu 24 Dec to Sat 26 Dec");
    const fields = { from: "2026-12-10", to: "2026-12-10", why: "wedding" };
    const taken = await house.post(`${ALDER}/remove`, {
      ...fields,
      version: versionIn(await house.page(ALDER), `${ALDER}/remove`),
    });
    expect(taken.status).toBe(303);
    expect(offOf(house)).toHaveLength(1);
    expect((await house.record.list({ limit: 2 })).map(({ sentence }) => sentence)).toEqual([
      "Days off of Alder taken away: Thu 10 Dec: wedding.",
      "Alder is off Thu 10 Dec: wedding.",
    ]);
  });

  it.each([
    [{ from: "", to: "" }, "Say on which day the crew is off first.", "from"],
    [{ from: "", to: "" }, "Say on which day the crew is off last.", "to"],
    [{ from: "2026-12-01", to: "2026-12-02" }, "Wednesday 2 December 2026 has gone by.", "to"],
    [{ from: "2026-12-12", to: "2026-12-11" }, "The days off end on 2026-12-11, before they begin", "to"],
    [{ from: "2026-12-25", to: "2026-12-25" }, "Alder is off then already.", "from"],
    [{ from: "Christmas", to: "2026-12-25" }, "&#34;Christmas&#34; is no date", "from"],
    [
      { from: "2026-12-10", to: "2026-12-10", why: "x".repeat(2_001) },
      "must be at most 2,000 characters",
      "why",
    ],
  ])("%j come back with their sentence beside the field", async (wrong, sentence, field) => {
    const house = await open();
    const sent = await house.post(ALDER, { version: "1", why: "wedding", ...wrong });
    expect(sent.status).toBe(422);
    const beside = sent.page.slice(sent.page.indexOf(`id="fault-${field}"`));
    expect(beside.slice(0, 300)).toContain(sentence);
    expect(offOf(house)).toHaveLength(1);
  });

  it("of a crew that somebody else has given days off meanwhile are not added, and stay in the form", async () => {
    const house = await open();
    const version = versionIn(await house.page(ALDER), ALDER);
    await house.casey({
      kind: "day-off-added",
      crew: "alder",
      input: { from: "2026-12-15", to: "2026-12-16", why: "" },
    });
    const sent = await house.post(ALDER, { version, from: "2026-12-10", to: "2026-12-10", why: "wedding" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      "Casey has changed this since you opened the page: Alder is off Tue 15 Dec to Wed 16 Dec.",
    );
    expect(sent.page).toContain('value="wedding"');
    expect(offOf(house)).toHaveLength(2);
  });

  it("of no crew are not found", async () => {
    const house = await open();
    for (const crew of ["nobody", "%00", "a%2Fb"]) {
      expect((await house.app.get(`/crews/${crew}/days-off`)).status).toBe(404);
      const fields = { version: "1", from: "2026-12-10", to: "2026-12-10" };
      expect([404, 409]).toContain((await house.post(`/crews/${crew}/days-off`, fields)).status);
      expect([404, 409]).toContain((await house.post(`/crews/${crew}/days-off/remove`, fields)).status);
    }
  });

  it("that were taken away already are not taken away again", async () => {
    const house = await open();
    const fields = { from: "2026-12-24", to: "2026-12-26", why: "other words", version: "1" };
    const sent = await house.post(`${ALDER}/remove`, fields);
    expect(sent.status).toBe(409);
    expect(sent.page).toContain("Alder has no such days off.");
  });
});

describe("changing a hold", () => {
  const FORM = {
    from: "2026-12-09T00:00",
    to: "2026-12-10T00:00",
    trades: "outdoor",
    jobs: "all",
    why: "rain",
  };

  it("begins with what stands and ends with what was typed", async () => {
    const house = await open();
    const page = await house.page(WET);
    expect(page).toContain('name="from" type="datetime-local" value="2026-12-09T00:00"');
    const fields = {
      ...FORM,
      version: versionIn(page, WET),
      to: "2026-12-09T12:00",
      reason: "clears at noon",
    };
    const sent = await house.post(WET, fields);
    expect([sent.status, sent.location]).toEqual([303, "/holds"]);
    expect(holdOf(house)).toMatchObject({ from: "2026-12-09", to: "2026-12-09T12:00" });
    expect(await house.record.list({ limit: 1 })).toMatchObject([
      {
        sentence:
          'Hold "rain" changed: time from Wednesday 9 December, all day to Wed 9 Dec, until 12:00 pm.',
        why: "clears at noon",
      },
    ]);
  });

  it.each([
    [{ from: "" }, "Say when the hold begins"],
    [{ to: "2026-12-08T00:00" }, "which is not after its start"],
    [{ from: "2026-11-01T00:00", to: "2026-11-02T00:00" }, "This hold would be over already"],
    [{ to: "2036-12-10T00:00" }, "more than three years away"],
    [{ trades: "some" }, "Say which work is held"],
    [{}, "This is as it stands already"],
  ])("to %j comes back with its sentence and what was typed", async (wrong, sentence) => {
    const house = await open();
    const sent = await house.post(WET, { ...FORM, reason: "called", version: "1", ...wrong });
    expect(sent.status).toBe(422);
    expect(sent.page).toContain(sentence);
    expect(sent.page).toContain('value="called"');
    expect(holdOf(house)?.to).toBe("2026-12-10");
  });

  it("that somebody else has lifted keeps what was typed, to be added anew", async () => {
    const house = await open();
    const version = versionIn(await house.page(WET), WET);
    await house.casey({ kind: "hold-lifted", id: "wet" });
    const sent = await house.post(WET, { ...FORM, version, to: "2026-12-09T12:00", why: "rain till noon" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      "Casey has changed this since you opened the page: Hold lifted: Wednesday 9 December, all day",
    );
    expect(sent.page).toContain('value="rain till noon"');
    expect(sent.page).toContain("Add the hold and plan again");
  });

  it("that nobody knows is not found", async () => {
    const house = await open();
    expect((await house.app.get("/holds/dry")).status).toBe(404);
    expect((await house.post("/holds/%00/lift", { version: "1" })).status).toBe(404);
  });
});
