/** What is published beside the plan: which crew's day holds, how it is worded, and what crews read. */
import { describe, expect, it } from "vitest";
import type { PublishedBlock } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { buildDaySheetView } from "../../src/board/day-sheet-view.js";
import { buildDriftView } from "../../src/board/drift-view.js";
import { buildPromise, type PublishedBy } from "../../src/board/promise.js";
import { buildPromisedReading, findStanding } from "../../src/board/promised-reading.js";
import { buildBoardPromise, buildPublishedView } from "../../src/board/promised-view.js";
import { buildReading, type Reading } from "../../src/board/reading.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const TODAY = civilDate("2026-12-07");
const TUESDAY = civilDate("2026-12-08");
const WEDNESDAY = civilDate("2026-12-09");
const THURSDAY = civilDate("2026-12-10");
const BY: PublishedBy = {
  madeAt: new Date("2026-12-07T20:30:00Z"),
  personName: "Robin",
  why: "",
  kind: "plan-published",
  plan: decemberPlan(),
};

type Blocks = Plan["blocks"];
const toPublished = (blocks: Blocks, isReleased: (block: Blocks[number]) => boolean = () => false) =>
  blocks.map((block): PublishedBlock => ({ ...block, released: isReleased(block) }));

/** The reading of a plan where other blocks are published. */
function read(published: readonly PublishedBlock[] | null, plan: Plan = decemberPlan()): Reading {
  return buildReading({ ...decemberCompany(), published }, plan);
}

/** The fixture with Alder's siding a day later than published. */
function delayed(): Plan {
  const plan = decemberPlan();
  const later = (text: string): string => text.replace("12-08T", "12-09T");
  return {
    ...plan,
    blocks: plan.blocks.map((block) =>
      block.crew === "alder" ? { ...block, start: later(block.start), end: later(block.end) } : block,
    ),
    tasks: plan.tasks.map((task) =>
      task.task === "side" ? { ...task, start: later(task.start), end: later(task.end) } : task,
    ),
    days: plan.days.map((day) => (day.crew === "alder" ? { ...day, date: "2026-12-09" } : day)),
  };
}

describe("a crew's day", () => {
  it("is as published where the plan has the very blocks", () => {
    const promise = buildPromise(read(toPublished(decemberPlan().blocks)), BY, TODAY);
    expect(["alder", "birch", "cedar"].map((crew) => promise.stateOf(crew, TUESDAY))).toEqual([
      "as-published",
      "as-published",
      "as-published",
    ]);
  });

  it("has other times where the same work lies at other hours, and other work where it moved", () => {
    const published = toPublished(decemberPlan().blocks);
    const earlier = published.map((block) =>
      block.crew === "birch" && block.kind === "cleanup"
        ? { ...block, end: "2026-12-08T15:40:00-05:00" }
        : block,
    );
    const promise = buildPromise(read(earlier, delayed()), BY, TODAY);
    expect(promise.stateOf("birch", TUESDAY)).toBe("other-times");
    expect(promise.stateOf("alder", TUESDAY)).toBe("other-work");
    expect(promise.stateOf("alder", WEDNESDAY)).toBe("other-work");
  });

  it("is released where a person has released it, whatever the plan has", () => {
    const published = toPublished(decemberPlan().blocks, ({ crew }) => crew === "alder");
    expect(buildPromise(read(published), BY, TODAY).stateOf("alder", TUESDAY)).toBe("released");
  });

  it("is not published where nothing is, or where only pieces of other days are", () => {
    expect(buildPromise(read(null), null, TODAY).stateOf("alder", TUESDAY)).toBe("unpublished");
    const pieces = toPublished(decemberPlan().blocks).filter(
      ({ crew, kind }) => crew === "birch" && kind === "work",
    );
    const promise = buildPromise(read(pieces), BY, TODAY);
    expect(promise.isWhole).toBe(false);
    expect(promise.stateOf("alder", TUESDAY)).toBe("unpublished");
    expect(promise.stateOf("birch", TUESDAY)).toBe("as-published");
  });

  it("does not differ by the hours that had gone by when the plan was made", () => {
    const plan = { ...decemberPlan(), asOf: "2026-12-08T12:30:00-05:00" };
    const after = { ...plan, blocks: plan.blocks.filter(({ start }) => start >= "2026-12-08T12:30") };
    const promise = buildPromise(read(toPublished(plan.blocks), after), BY, TUESDAY);
    expect(promise.stateOf("alder", TUESDAY)).toBe("as-published");
  });
});

describe("the board", () => {
  it("says that all is a forecast while nothing is published", () => {
    const reading = read(null);
    const view = buildBoardPromise(reading, buildPromise(reading, null, TODAY), TUESDAY);
    expect(view).toMatchObject({
      isPublished: false,
      line: "Nothing is published yet: all of this is a forecast.",
      hasDrifted: false,
    });
  });

  it("says who published when, and that a day inside the freeze holds and a later one may move", () => {
    const reading = read(toPublished(decemberPlan().blocks));
    const promise = buildPromise(reading, BY, TODAY);
    expect(buildBoardPromise(reading, promise, TUESDAY).line).toBe(
      "This day is as published. Published Mon 7 Dec, 3:30 pm by Robin.",
    );
    expect(buildBoardPromise(reading, promise, THURSDAY).line).toBe(
      "So far this day is as published; it may still move. Published Mon 7 Dec, 3:30 pm by Robin.",
    );
  });

  it("tells of a day what was to be on it and what is now, and of another day nothing", () => {
    const reading = read(toPublished(decemberPlan().blocks), delayed());
    const promise = buildPromise(reading, BY, TODAY);
    const [line] = buildBoardPromise(reading, promise, TUESDAY).drift.moved;
    expect(line).toEqual({
      jobId: "tern-14",
      what: "Siding, left side at 14 Tern Lane",
      change: "published Tue 8 Dec, now Wed 9 Dec",
      why: "no light before 7:01",
      isWorse: true,
    });
    expect(buildBoardPromise(reading, promise, WEDNESDAY).drift.moved).toHaveLength(1);
    expect(buildBoardPromise(reading, promise, THURSDAY).drift.moved).toEqual([]);
  });
});

describe("what keeps moved work from its day", () => {
  const sayWhy = (reading: Reading): string =>
    present(buildDriftView(reading, buildPromise(reading, BY, TODAY)).moved[0], "a moved task").why;
  const withCompany = (change: Partial<Reading["company"]>): Reading => {
    const company = { ...decemberCompany(), published: toPublished(decemberPlan().blocks), ...change };
    return buildReading(company, delayed());
  };

  it("is the crew's day off, with its reason", () => {
    const crews = decemberCompany().crews.map((crew) =>
      crew.id === "alder" ? { ...crew, off: [{ from: "2026-12-08", to: "2026-12-08", why: "flu" }] } : crew,
    );
    expect(sayWhy(withCompany({ crews }))).toBe("Alder is off Tue 8 Dec: flu");
  });

  it("is a hold of that work at that house", () => {
    const hold = {
      from: "2026-12-08",
      to: "2026-12-09",
      trades: "outdoor",
      jobs: "all",
      why: "rain",
      source: "hand",
    } as const;
    expect(sayWhy(withCompany({ holds: [{ id: "h", ...hold }] }))).toBe("on hold Tue 8 Dec: rain");
    expect(sayWhy(withCompany({ holds: [{ id: "h", ...hold, jobs: ["gull-3"] }] }))).toBe(
      "no light before 7:01",
    );
  });

  it("is the house at which the crew is held instead", () => {
    const plan = delayed();
    const busy = {
      ...plan,
      tasks: plan.tasks.map((task) =>
        task.task === "side"
          ? {
              ...task,
              because: {
                kind: "crew-busy" as const,
                text: { en: "Alder is at 3 Gull Street.", es: "" },
                by: { job: "gull-3", task: "open" },
                until: null,
              },
            }
          : task,
      ),
    };
    expect(sayWhy(read(toPublished(decemberPlan().blocks), busy))).toBe("Alder is held at 3 Gull Street");
  });

  it("is not asked of work that begins earlier, or on the same day", () => {
    const reading = read(toPublished(delayed().blocks), decemberPlan());
    const [line] = buildDriftView(reading, buildPromise(reading, BY, TODAY)).moved;
    expect(line).toMatchObject({ change: "published Wed 9 Dec, now Tue 8 Dec", why: "", isWorse: false });
  });

  it("is said with the crews where another one works it", () => {
    const plan = decemberPlan();
    const lent = {
      ...plan,
      blocks: plan.blocks.map((block) => (block.crew === "alder" ? { ...block, crew: "dune" } : block)),
    };
    const reading = read(toPublished(plan.blocks), lent);
    expect(buildDriftView(reading, buildPromise(reading, BY, TODAY)).moved[0]?.change).toBe(
      "published Tue 8 Dec with Alder, now Tue 8 Dec with Dune",
    );
  });
});

describe("the page of what is published", () => {
  it("lists the sheets that are held, each with whether it is released", () => {
    const published = toPublished(decemberPlan().blocks, ({ crew }) => crew === "cedar");
    const reading = read(published);
    const { sheets, heldLine } = buildPublishedView(reading, buildPromise(reading, BY, TODAY), TODAY);
    expect(heldLine).toBe(
      "Published day sheets up to Tuesday 8 December move only when a person releases them.",
    );
    expect(sheets.map(({ crewName, day, words }) => `${crewName} ${day}: ${words}`)).toEqual([
      "Alder Tue 8 Dec: as published",
      "Birch Tue 8 Dec: as published",
      "Cedar Tue 8 Dec: released: may move",
    ]);
  });

  it("has no sheets while nothing is published", () => {
    const reading = read(null);
    expect(buildPublishedView(reading, buildPromise(reading, null, TODAY), TODAY)).toMatchObject({
      isPublished: false,
      sheets: [],
      hasDrifted: false,
    });
  });

  it("says of a promised date that it was kept as published and is broken now", () => {
    const reading = read(toPublished(decemberPlan().blocks), {
      ...delayed(),
      blocks: delayed().blocks.map((block) =>
        block.job === "tern-14" && block.crew === "cedar"
          ? {
              ...block,
              start: block.start.replace("12-08T", "12-09T"),
              end: block.end.replace("12-08T", "12-09T"),
            }
          : block,
      ),
    });
    expect(buildDriftView(reading, buildPromise(reading, BY, TODAY)).promises).toEqual([
      {
        jobId: "tern-14",
        sentence: "14 Tern Lane, promised Tue 8 Dec: kept as published, now 1 day late",
        isBroken: true,
      },
    ]);
  });
});

describe("a crew's phone", () => {
  const sheetOf = (
    published: readonly PublishedBlock[] | null,
    plan: Plan,
    date = TUESDAY,
    language: "en" | "es" = "en",
  ) => {
    const reading = read(published, plan);
    const promise = buildPromise(reading, published === null ? null : BY, TODAY);
    const crewReading = buildPromisedReading(reading, promise, TODAY);
    const crew = present(crewReading.crews.get("alder"), "Alder");
    return buildDaySheetView(crewReading, crew, date, TODAY, language, promise);
  };

  it("shows a held day as it was published, with its light, though the plan has another by now", () => {
    const sheet = sheetOf(toPublished(decemberPlan().blocks), delayed());
    expect(sheet).toMatchObject({ isCalledOut: true, startTime: "7:00 am", isPublished: true });
    expect(sheet.toolsDown).toEqual([{ label: "Tools down by", time: "2:50 pm" }]);
    expect(sheet.standing).toContain("go by this sheet");
    expect(sheet.entries).toEqual(sheetOf(toPublished(decemberPlan().blocks), decemberPlan()).entries);
  });

  it("shows a later day by the plan, and says that it is a forecast, in both languages", () => {
    const sheet = sheetOf(toPublished(decemberPlan().blocks), delayed(), WEDNESDAY);
    expect(sheet).toMatchObject({
      isCalledOut: true,
      standing: "Forecast: this day may still change.",
      isPublished: false,
    });
    expect(sheetOf(toPublished(decemberPlan().blocks), delayed(), WEDNESDAY, "es").standing).toBe(
      "Pronóstico: este día aún puede cambiar.",
    );
    expect(sheet.nextDays.every(({ mark }) => mark === "forecast")).toBe(true);
  });

  it("shows a released day by the plan, and says so", () => {
    const sheet = sheetOf(
      toPublished(decemberPlan().blocks, ({ crew }) => crew === "alder"),
      delayed(),
    );
    expect(sheet).toMatchObject({ isCalledOut: false, isPublished: false });
    expect(sheet.standing).toContain("released this day");
  });

  it("shows the plan as a forecast while nothing is published, or only pieces of work are that moved", () => {
    expect(sheetOf(null, decemberPlan()).standing).toBe(
      "Forecast: nothing is published yet, and this day may still change.",
    );
    const pieces = toPublished(decemberPlan().blocks).filter(({ kind }) => kind === "work");
    expect(sheetOf(pieces, delayed())).toMatchObject({ isCalledOut: false, isPublished: false });
  });

  it("says of each of the next days whether it holds", () => {
    const reading = read(toPublished(decemberPlan().blocks));
    const promise = buildPromise(reading, BY, TODAY);
    expect([TODAY, TUESDAY, WEDNESDAY].map((date) => findStanding(promise, "alder", date, TODAY))).toEqual([
      "published",
      "published",
      "forecast",
    ]);
  });
});
