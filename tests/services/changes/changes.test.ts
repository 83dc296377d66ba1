/** Each kind of change by example: what it writes, what the record says, and what it does not do. */
import { describe, expect, it } from "vitest";
import { parseCompany, formatFault } from "../../../src/domain/company-file.js";
import type { Source } from "../../../src/domain/company-parts.js";
import { present } from "../../../src/domain/result.js";
import { parseInstant } from "../../../src/domain/time.js";
import { applyChange } from "../../../src/services/changes/apply-change.js";
import type { CompanyChange } from "../../../src/services/changes/company-change.js";
import type { ProgressInput } from "../../../src/services/changes/task-progress.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../../support/company-builder.js";

const NOW = present(parseInstant("2026-12-03T16:00", "America/New_York"), "the afternoon");

const COMPANY = JSON.parse(
  JSON.stringify(
    aCompany({
      crews: [
        aCrew({ off: [{ from: "2026-12-24", to: "2026-12-26", why: "holidays" }] }),
        aCrew({ id: "birch", name: "Birch", trades: { stone: 1 } }),
      ],
      jobs: [
        aJob({
          id: "harbor-12",
          name: "12 Harbor Road",
          promised: "2026-12-04",
          deliveries: [{ id: "d1", what: "windows", expected: "2026-12-02" }],
          tasks: [
            aTask({ id: "t1", title: "Side the front" }),
            aTask({
              id: "t2",
              title: "Trim",
              status: "under-way",
              doneBy: "alder",
              leftHours: 4,
              startedAt: "2026-12-02T08:00",
            }),
            aTask({
              id: "t3",
              title: "Wrap",
              status: "done",
              doneBy: "alder",
              finishedAt: "2026-12-01T15:00",
            }),
            aWait({ id: "w1" }),
          ],
        }),
        aJob({ id: "cove-3", name: "3 Cove Street" }),
      ],
      holds: [
        { id: "wet", from: "2026-12-09", to: "2026-12-10", trades: "outdoor", jobs: "all", why: "rain" },
      ],
    }),
  ),
) as Source;

const parsed = parseCompany(COMPANY);
const company = present(parsed.ok ? parsed.value : undefined, "the company");
const apply = (change: CompanyChange) => applyChange({ source: COMPANY, company, nowMinute: NOW }, change);

/** What was written at a path, and the sentence. */
function made(change: CompanyChange): { readonly source: Source; readonly sentence: string } {
  const applied = apply(change);
  if (!applied.ok) throw new Error(JSON.stringify(applied.error));
  return applied.value;
}

function refused(change: CompanyChange): string {
  const applied = apply(change);
  if (applied.ok) return "";
  return applied.error.kind === "faults"
    ? applied.error.faults.map(formatFault).join(" | ")
    : applied.error.refusal.sentence;
}

const sentenceOf = (change: CompanyChange): string => made(change).sentence;
const entryOf = (source: Source, path: readonly (string | number)[]): unknown =>
  path.reduce<unknown>((value, key) => (value as Record<string | number, unknown>)[key], source);

describe("a promised date", () => {
  const move = (promised: string | null, job = "harbor-12"): CompanyChange => ({
    kind: "promise-moved",
    job,
    promised,
  });

  it("is moved, set for the first time or taken back, and the record says from when to when", () => {
    expect(sentenceOf(move("2026-12-08"))).toBe(
      "Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec.",
    );
    expect(sentenceOf(move("2026-12-08", "cove-3"))).toBe("Promised date of 3 Cove Street set to Tue 8 Dec.");
    expect(sentenceOf(move(null))).toBe("Promised date of 12 Harbor Road, Fri 4 Dec, taken back.");
  });

  it("leaves the field out of the file where nothing is promised", () => {
    expect(entryOf(made(move(null)).source, ["jobs", 0])).not.toHaveProperty("promised");
    expect(entryOf(made(move("2026-12-08")).source, ["jobs", 0])).toMatchObject({ promised: "2026-12-08" });
  });

  it("is refused where it has gone by, is years away, is no date, or is what it was", () => {
    expect(refused(move("2026-12-02"))).toBe(
      "jobs[0].promised: Wednesday 2 December 2026 has gone by. Write a date from Thursday 3 December on.",
    );
    expect(refused(move("2036-12-08"))).toBe(
      "jobs[0].promised: Monday 8 December 2036 is more than three years away. Look at the year.",
    );
    expect(refused(move("2026-12-32"))).toContain('jobs[0].promised: "2026-12-32" is no date');
    expect(refused(move("2026-12-04"))).toBe("This is as it stands already, so there was nothing to change.");
    expect(refused(move(null, "nowhere"))).toBe('There is no house "nowhere" any more.');
  });
});

describe("a delivery", () => {
  const change = (expected: string, received: boolean): CompanyChange => ({
    kind: "delivery-changed",
    job: "harbor-12",
    delivery: "d1",
    expected,
    received,
  });

  it("is expected on another day or has come", () => {
    expect(sentenceOf(change("2026-12-09", false))).toBe(
      "Delivery to 12 Harbor Road, windows: expected day moved from Wed 2 Dec to Wed 9 Dec.",
    );
    expect(sentenceOf(change("2026-12-02", true))).toBe("Delivery to 12 Harbor Road, windows: received.");
  });

  it("that has not come is not expected in the past, but one that has may have been", () => {
    expect(refused(change("2026-12-01", false))).toContain(
      "has gone by. Write a date from Thursday 3 December on.",
    );
    expect(refused(change("2026-12-01", true))).toBe("");
  });
});

describe("a crew's language", () => {
  const read = (language: "en" | "es", crew = "alder"): CompanyChange => ({
    kind: "crew-language",
    crew,
    language,
  });

  it("is written on the crew, and the record says from what to what", () => {
    const done = made(read("es"));
    expect(done.sentence).toBe("Alder reads Spanish instead of English.");
    expect(entryOf(done.source, ["crews", 0, "language"])).toBe("es");
  });

  it("is not changed to what it is, nor of a crew that is gone", () => {
    expect(refused(read("en"))).toBe("Alder reads English already.");
    expect(refused(read("es", "nobody"))).toBe('There is no crew "nobody" any more.');
  });
});

describe("a day off", () => {
  const add = (from: string, to: string, why = ""): CompanyChange => ({
    kind: "day-off-added",
    crew: "alder",
    input: { from, to, why },
  });

  it("is added with its reason and taken away again", () => {
    const added = made(add("2026-12-10", "2026-12-11", "wedding"));
    expect(added.sentence).toBe("Alder is off Thu 10 Dec to Fri 11 Dec: wedding.");
    expect(entryOf(added.source, ["crews", 0, "off", 1])).toEqual({
      from: "2026-12-10",
      to: "2026-12-11",
      why: "wedding",
    });
    const removed = made({
      kind: "day-off-removed",
      crew: "alder",
      input: { from: "2026-12-24", to: "2026-12-26", why: "holidays" },
    });
    expect(removed.sentence).toBe("Days off of Alder taken away: Thu 24 Dec to Sat 26 Dec: holidays.");
    expect(entryOf(removed.source, ["crews", 0])).not.toHaveProperty("off");
  });

  it("is refused where it is all past, the wrong way round, known already, or years away", () => {
    expect(refused(add("2026-12-01", "2026-12-02"))).toContain(
      "crews[0].off[1].to: Wednesday 2 December 2026 has gone by",
    );
    expect(refused(add("2026-12-11", "2026-12-10"))).toContain(
      "crews[0].off[1].to: The days off end on 2026-12-10",
    );
    expect(refused(add("2026-12-25", "2026-12-25"))).toBe("crews[0].off[1].from: Alder is off then already.");
    expect(refused(add("2031-01-01", "2031-01-02"))).toContain("more than three years away");
  });

  it("may have begun before today", () => {
    expect(refused(add("2026-12-02", "2026-12-04"))).toBe("");
  });
});

describe("the progress of a task", () => {
  const NOTHING: ProgressInput = {
    status: "to-do",
    leftHours: null,
    doneBy: null,
    startedAt: null,
    finishedAt: null,
  };
  const progress = (task: string, input: Partial<ProgressInput>): CompanyChange => ({
    kind: "task-progress",
    job: "harbor-12",
    task,
    input: { ...NOTHING, ...input },
  });
  const BEGUN = {
    status: "under-way",
    doneBy: "alder",
    leftHours: 4,
    startedAt: "2026-12-02T08:00",
  } as const;

  it("begins now where nobody says when", () => {
    const begun = made(progress("t1", { status: "under-way", doneBy: "alder", leftHours: 5 }));
    expect(begun.sentence).toBe(
      "Side the front at 12 Harbor Road: status from to do to under way, hours left set to 5, crew set to Alder.",
    );
    expect(entryOf(begun.source, ["jobs", 0, "tasks", 0])).toMatchObject({
      status: "under-way",
      leftHours: 5,
      doneBy: "alder",
      startedAt: "2026-12-03T16:00",
    });
  });

  it("tells hours left from what to what", () => {
    expect(sentenceOf(progress("t2", { ...BEGUN, leftHours: 6.5 }))).toBe(
      "Trim at 12 Harbor Road: hours left from 4 to 6.5.",
    );
  });

  it("ends now where nobody says when, without hours left", () => {
    const done = made(progress("t2", { ...BEGUN, status: "done" }));
    expect(done.sentence).toBe(
      "Trim at 12 Harbor Road: status from under way to done, hours left 4 taken out.",
    );
    expect(entryOf(done.source, ["jobs", 0, "tasks", 1])).toMatchObject({
      status: "done",
      startedAt: "2026-12-02T08:00",
      finishedAt: "2026-12-03T16:00",
    });
    expect(entryOf(done.source, ["jobs", 0, "tasks", 1])).not.toHaveProperty("leftHours");
  });

  it("goes back to the beginning with everything that had been said", () => {
    const back = made(progress("t2", { ...BEGUN, status: "to-do" }));
    const task = entryOf(back.source, ["jobs", 0, "tasks", 1]);
    for (const field of ["doneBy", "leftHours", "startedAt"]) expect(task).not.toHaveProperty(field);
  });

  it("names a crew where work is under way, one that does the trade", () => {
    expect(refused(progress("t1", { status: "under-way" }))).toContain("Say which crew has begun it");
    expect(refused(progress("t1", { status: "under-way", doneBy: "birch" }))).toBe(
      "jobs[0].tasks[0].doneBy: Birch does not do this trade (Siding). Choose another crew.",
    );
    expect(refused(progress("t1", { doneBy: "alder" }))).toContain(
      "Nobody has begun a task that is still to do",
    );
  });

  it("has hours left only under way, from 0 to 5,000", () => {
    expect(refused(progress("t2", { ...BEGUN, leftHours: 5_001 }))).toBe(
      "jobs[0].tasks[1].leftHours: 5,001 hours left are more than a task can have, which is 5,000.",
    );
    expect(refused(progress("t2", { ...BEGUN, leftHours: -1 }))).toContain("as a number from 0 on");
    expect(refused(progress("t2", { ...BEGUN, leftHours: NaN }))).toContain("as a number from 0 on");
    expect(refused(progress("t2", { ...BEGUN, status: "done", leftHours: 3 }))).toContain(
      "A task that is done has no hours left",
    );
    expect(refused(progress("t1", { leftHours: 3 }))).toContain(
      "A task that is still to do has its estimate",
    );
    expect(refused(progress("w1", { status: "under-way", leftHours: 3 }))).toContain(
      "A wait has no hours left",
    );
  });

  it("has times that have been, in order, that go with the status", () => {
    expect(refused(progress("t2", { ...BEGUN, startedAt: "2026-12-03T16:01" }))).toBe(
      "jobs[0].tasks[1].startedAt: The task cannot have begun on Thu 3 Dec, 4:01 pm, which is still to come.",
    );
    expect(refused(progress("t2", { ...BEGUN, finishedAt: "2026-12-03T15:00" }))).toContain(
      "Only a task that is done has a finish",
    );
    expect(refused(progress("t1", { startedAt: "2026-12-03T15:00" }))).toContain(
      "A task that is still to do has no start",
    );
    expect(refused(progress("t2", { ...BEGUN, status: "done", finishedAt: "2026-12-02T07:00" }))).toContain(
      "before its start",
    );
  });

  it("leaves a time as it was written, where only its writing differs", () => {
    expect(refused(progress("t2", { ...BEGUN, startedAt: "2026-12-02T08:00:00-05:00" }))).toContain(
      "nothing to change",
    );
  });

  it("of a wait has times and no crew", () => {
    expect(sentenceOf(progress("w1", { status: "under-way" }))).toBe(
      "Framing inspection at 12 Harbor Road: status from to do to under way.",
    );
    expect(refused(progress("w1", { status: "under-way", doneBy: "alder" }))).toContain("A wait has no crew");
  });
});

describe("a hold", () => {
  const input = {
    from: "2026-12-10T00:00",
    to: "2026-12-11T00:00",
    trades: ["stone"],
    jobs: ["cove-3"],
    why: "frost",
  };

  it("is told in the words of the house, not of the file", () => {
    expect(sentenceOf({ kind: "hold-added", input })).toBe(
      "Hold added: Thursday 10 December, all day, Stone at 3 Cove Street: frost.",
    );
    expect(sentenceOf({ kind: "hold-lifted", id: "wet" })).toBe(
      "Hold lifted: Wednesday 9 December, all day, outdoor work at every house: rain.",
    );
  });

  it("is changed, and the record says what from and what to", () => {
    const changed = made({
      kind: "hold-changed",
      id: "wet",
      input: { from: "2026-12-09T00:00", to: "2026-12-09T12:00", trades: "all", jobs: "all", why: "rain" },
    });
    expect(changed.sentence).toBe(
      'Hold "rain" changed: time from Wednesday 9 December, all day to Wed 9 Dec, until 12:00 pm, work from outdoor work to all work.',
    );
    // The start means the same minute as before, so it stays as it was written.
    expect(entryOf(changed.source, ["holds", 0])).toMatchObject({
      from: "2026-12-09",
      to: "2026-12-09T12:00",
    });
  });

  it("is refused where it is over already, ends before it begins, or is years away", () => {
    expect(refused({ kind: "hold-added", input: { ...input, from: "2026-12-01", to: "2026-12-02" } })).toBe(
      "holds[1].to: This hold would be over already, and hold nothing. Write a later end.",
    );
    expect(refused({ kind: "hold-changed", id: "wet", input: { ...input, to: "2026-12-09" } })).toContain(
      "holds[0].to",
    );
    expect(refused({ kind: "hold-added", input: { ...input, to: "2031-12-11" } })).toContain(
      "more than three years away",
    );
  });
});

it("a reason that is too long or holds what nobody types is refused, whatever the change", () => {
  const change = { kind: "hold-lifted", id: "wet" } as const;
  expect(refused({ ...change, why: "x".repeat(2_001) })).toContain("must be at most 2,000 characters");
  expect(refused({ ...change, why: "\u0000" })).toContain("control characters");
});
