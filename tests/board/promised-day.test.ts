/** A crew's day as it was published beside the plan's: what differs, and what only seems to. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { buildPromise } from "../../src/board/promise.js";
import { buildReading } from "../../src/board/reading.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";
import {
  BY,
  delayed,
  LOADED,
  on,
  read,
  TODAY,
  toPublished,
  TUESDAY,
  WEDNESDAY,
  type Blocks,
} from "./published-fixture.js";

describe("a crew's day", () => {
  it("is as published where the plan has the very blocks", () => {
    const promise = buildPromise(read(toPublished(decemberPlan().blocks)), BY, TODAY);
    expect(["alder", "birch", "cedar"].map((crew) => promise.compare(crew, TUESDAY).state)).toEqual([
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
    expect(promise.compare("birch", TUESDAY).state).toBe("other-times");
    expect(promise.compare("alder", TUESDAY).state).toBe("other-work");
    expect(promise.compare("alder", WEDNESDAY).state).toBe("other-work");
  });

  it("is released where a person has released it, whatever the plan has", () => {
    const published = toPublished(decemberPlan().blocks, ({ crew }) => crew === "alder");
    expect(buildPromise(read(published), BY, TODAY).compare("alder", TUESDAY).state).toBe("released");
  });

  it("is not published where nothing is, or where only pieces of other days are; of its own pieces the plan has them", () => {
    expect(buildPromise(read(null), null, TODAY).compare("alder", TUESDAY).state).toBe("unpublished");
    const pieces = toPublished(decemberPlan().blocks).filter(
      ({ crew, kind }) => crew === "birch" && kind === "work",
    );
    const promise = buildPromise(read(pieces), LOADED, TODAY);
    expect(promise.isWhole).toBe(false);
    expect(promise.compare("alder", TUESDAY).state).toBe("unpublished");
    expect(promise.compare("birch", TUESDAY).state).toBe("has-work");
    expect(buildPromise(read(pieces, delayed("birch")), LOADED, TODAY).compare("birch", TUESDAY).state).toBe(
      "other-work",
    );
  });

  it("is whole where the app has published it, though all of it is work", () => {
    const work = toPublished(decemberPlan().blocks).filter(({ kind }) => kind === "work");
    expect(buildPromise(read(work), BY, TODAY).isWhole).toBe(true);
  });
});

describe("a day that has begun", () => {
  const NOON = "2026-12-08T12:45:00-05:00";
  const published = toPublished(decemberPlan().blocks);
  /** The plan made again at a quarter to one, in the middle of work: what has gone by is not in it. */
  const madeAgain = (change: (block: Blocks[number]) => Blocks = (block) => [block]): Plan => ({
    ...decemberPlan(),
    asOf: NOON,
    blocks: decemberPlan()
      .blocks.filter(({ end }) => end > NOON)
      .map((block) => (block.start < NOON ? { ...block, start: NOON } : block))
      .flatMap(change),
  });
  const compare = (plan: Plan, crew: string, company = decemberCompany()) =>
    buildPromise(buildReading({ ...company, published }, plan), BY, TUESDAY).compare(crew, TUESDAY);

  it("does not differ by the hours that had gone by when the plan was made, nor by work that is cut there", () => {
    for (const crew of ["alder", "birch", "cedar"]) {
      expect(compare(madeAgain(), crew).state, crew).toBe("as-published");
    }
  });

  it("has no other work because some of it is done sooner, or is still to do by what the office knows", () => {
    const { jobs } = decemberCompany();
    const company = decemberCompany({
      jobs: jobs.map((job) => ({
        ...job,
        tasks: job.tasks.map((task) => (task.id === "side" ? { ...task, status: "done" as const } : task)),
      })) as CompanyInput["jobs"],
    });
    const done = madeAgain((block) => (block.task === "side" ? [] : [block]));
    expect(compare(done, "alder", company).state).toBe("as-published");
    // Cedar's scratch coat of the morning, of which nobody has reported anything.
    const unreported = madeAgain((block) =>
      block.crew === "cedar" && block.kind === "setup"
        ? [{ ...block, kind: "work", job: "wharf-27", task: "scratch", start: NOON }]
        : [block],
    );
    expect(compare(unreported, "cedar")).toMatchObject({ state: "other-times", movedTime: null });
  });

  it("says which work the crew has on a later day by now", () => {
    const later = madeAgain((block) =>
      block.task === "caulk" ? [{ ...block, start: on("10", "08:00"), end: on("10", "08:23") }] : [block],
    );
    expect(compare(later, "cedar")).toEqual({
      state: "later-days",
      movedTime: null,
      laterWork: [{ job: "tern-14", task: "caulk", date: "2026-12-10" }],
    });
  });

  it("is another one where other work is on it, or its work is with another crew or in no plan", () => {
    const more = madeAgain((block) =>
      block.crew === "alder" && block.task === "side"
        ? [block, { ...block, job: "gull-3", task: "blocks" }]
        : [block],
    );
    expect(compare(more, "alder").state).toBe("other-work");
    const lent = madeAgain((block) =>
      block.task === "caulk"
        ? [{ ...block, crew: "dune", start: on("10", "08:00"), end: on("10", "08:23") }]
        : [block],
    );
    expect(compare(lent, "cedar").state).toBe("other-work");
    expect(
      compare(
        madeAgain((block) => (block.task === "caulk" ? [] : [block])),
        "cedar",
      ).state,
    ).toBe("other-work");
  });
});
