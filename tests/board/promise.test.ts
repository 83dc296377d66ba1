/** What is published beside the plan, as the office reads it: on the board, on the page of it, and why work has moved. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { buildDriftView } from "../../src/board/drift-view.js";
import { buildPromise } from "../../src/board/promise.js";
import { buildBoardPromise, buildPublishedView } from "../../src/board/promised-view.js";
import { buildReading, type Reading } from "../../src/board/reading.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";
import {
  BY,
  delayed,
  LOADED,
  read,
  THURSDAY,
  TODAY,
  toPublished,
  TUESDAY,
  WEDNESDAY,
} from "./published-fixture.js";

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

  it("says where only pieces of work are published that the rest is a forecast", () => {
    const reading = read(toPublished(decemberPlan().blocks).filter(({ kind }) => kind === "work"));
    const view = buildBoardPromise(reading, buildPromise(reading, LOADED, TODAY), TUESDAY);
    expect(view.line).toContain("Only pieces of work are published: those of this day are in the plan");
    expect(view.crews.find(({ crewId }) => crewId === "alder")?.words).toBe("the published work is in it");
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
