/** The record in words: who, when, what each thing was and is, and what can no longer be taken back. */
import { describe, expect, it } from "vitest";
import { buildRecordView, kindWords, type RecordEntry } from "../../src/board/record-view.js";
import type { Source } from "../../src/domain/company-parts.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";

const JOB = aJob({
  id: "harbor-12",
  name: "12 Harbor Road",
  promised: "2026-12-08",
  tasks: [aTask({ status: "under-way", doneBy: "alder" })],
});
const { tasks, ...BODY } = JOB;
const [TASK] = tasks ?? [];
const CREW = aCrew();
const STANDING = JSON.parse(JSON.stringify(aCompany({ jobs: [JOB], crews: [CREW] }))) as Source;

const ENTRY: RecordEntry = {
  version: 7,
  madeAt: new Date("2026-12-03T21:05:00Z"),
  personName: "Casey",
  kind: "promise-moved",
  sentence: "Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec.",
  why: "windows late",
  before: { "job/harbor-12": { body: { ...BODY, promised: "2026-12-04" } } },
  after: { "job/harbor-12": { body: BODY } },
  undoes: null,
  undoneBy: null,
};
const view = (entry: Partial<RecordEntry> = {}) => buildRecordView([{ ...ENTRY, ...entry }], STANDING)[0];
const fieldsOf = (before: unknown, after: unknown, key = "task/harbor-12/t1") =>
  view({ before: { [key]: { body: before } }, after: { [key]: { body: after } } })?.parts[0]?.fields;

describe("an entry of the record", () => {
  it("says who did what, when by the company's clock, and why", () => {
    expect(view()).toMatchObject({
      when: "Thu 3 Dec 2026, 4:05 pm",
      who: "Casey",
      kind: "promised date moved",
      why: "windows late",
    });
  });

  it("shows only the fields that differ, before and after, in words", () => {
    expect(view()?.parts).toEqual([
      {
        title: "House: 12 Harbor Road",
        what: "changed",
        fields: [{ name: "Promised date", before: "Fri 4 Dec 2026", after: "Tue 8 Dec 2026" }],
      },
    ]);
    expect(
      fieldsOf(
        { status: "to-do", opens: false, laborHours: 6 },
        {
          status: "under-way",
          opens: true,
          laborHours: 1234.5,
          doneBy: "alder",
          startedAt: "2026-12-03T09:00:00-05:00",
        },
      ),
    ).toEqual([
      { name: "Status", before: "to do", after: "under way" },
      { name: "Opens", before: "no", after: "yes" },
      { name: "Labor-hours", before: "6", after: "1,234.5" },
      { name: "Crew", before: "", after: "Alder" },
      { name: "Start", before: "", after: "Thu 3 Dec 2026, 9:00 am" },
    ]);
  });

  it("shows of a list what went and what came", () => {
    const off = (from: string, to: string, why?: string) => ({ from, to, ...(why && { why }) });
    const kept = off("2026-12-24", "2026-12-26");
    expect(
      fieldsOf(
        { off: [kept, off("2026-12-10", "2026-12-10", "wedding")] },
        { off: [kept, off("2026-12-11", "2026-12-12")] },
        "crew/alder",
      ),
    ).toEqual([
      { name: "Days off", before: "Thu 10 Dec 2026 (wedding)", after: "Fri 11 Dec 2026 to Sat 12 Dec 2026" },
    ]);
  });

  it("shows what is within a field by both names", () => {
    expect(
      fieldsOf({ site: { lat: 43.6, lon: -70 } }, { site: { lat: 43.7, lon: -70 } }, "job/harbor-12"),
    ).toEqual([{ name: "Site: latitude", before: "43.6", after: "43.7" }]);
  });

  it("names what came and what went", () => {
    const added = view({
      before: { "task/harbor-12/t1": null },
      after: { "task/harbor-12/t1": { body: TASK } },
    });
    expect(added?.parts[0]).toMatchObject({ title: "Task: Side the front, 12 Harbor Road", what: "added" });
    const removed = view({
      before: { "crew/birch": { body: { id: "birch", name: "Birch" } } },
      after: { "crew/birch": null },
    });
    expect(removed?.parts[0]).toMatchObject({
      title: "Crew: Birch",
      what: "removed",
      fields: [{ name: "Name", before: "Birch", after: "" }],
    });
  });

  it("counts what is too much to show", () => {
    const states = Object.fromEntries(
      Array.from({ length: 1_015 }, (_, nth) => [`hold/h${nth}`, { body: { why: "rain" } }]),
    );
    const nothing = Object.fromEntries(Object.keys(states).map((key) => [key, null]));
    const entry = view({ before: nothing, after: states });
    expect([entry?.parts.length, entry?.more]).toEqual([12, "and 1,003 more"]);
  });

  it("of a kind that this program does not know goes by its own name", () => {
    expect(kindWords("moon-phase-moved")).toBe("moon-phase-moved");
  });
});

describe("taking back", () => {
  it("may be tried where what the change wrote still stands, whatever the order of its fields", () => {
    const turned = Object.fromEntries(Object.entries(BODY).toReversed());
    expect(view({ after: { "job/harbor-12": { body: turned } } })?.whyNotUndone).toBe("");
  });

  it("is not offered where that has changed, is gone, or was taken back", () => {
    expect(
      view({ after: { "job/harbor-12": { body: { ...BODY, promised: "2026-12-09" } } } })?.whyNotUndone,
    ).toContain("has been changed since");
    expect(view({ after: { "hold/wet": { body: {} } } })?.whyNotUndone).toContain("has been changed since");
    expect(view({ undoneBy: 9 })?.whyNotUndone).toBe("This has been taken back, by change 9.");
  });

  it("is not offered for the first company file", () => {
    expect(view({ before: { "company/only": null } })?.whyNotUndone).toBe(
      "The first company file cannot be taken back.",
    );
  });
});
