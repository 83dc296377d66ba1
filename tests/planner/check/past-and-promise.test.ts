/** Rule 11: what is under way stays and comes first; what was published for the next days is kept or said not to be. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../../support/company-builder.js";
import { brokenRules, ny, planFrom } from "./hand-made-plan.js";

const TUE = "2027-03-16";
const WED = "2027-03-17";
const crews = [aCrew(), aCrew({ id: "birch", name: "Birch" })];

describe("work under way", () => {
  const underWay = aTask({
    id: "t2",
    title: "Side the back",
    laborHours: 9,
    status: "under-way",
    doneBy: "alder",
    leftHours: 3,
  });
  const company = parsed(aCompany({ crews, jobs: [aJob({ tasks: [aTask(), underWay] })] }));
  const day = (crew: string, first: string, second: string) => [
    `${crew} ${TUE} 07:00 07:20 setup spruce-14`,
    first,
    second,
    `${crew} ${TUE} 10:20 10:50 cleanup spruce-14`,
  ];
  const cost = { idleCrewHours: 250 / 60 };

  it("comes first, for the hours that are left", () => {
    const lines = day(
      "alder",
      `alder ${TUE} 07:20 08:20 work spruce-14 t2`,
      `alder ${TUE} 08:20 10:20 work spruce-14 t1`,
    );
    expect(checkPlan(company, planFrom(company, { lines, cost }))).toEqual([]);
  });
  it("may not come after other work of its crew", () => {
    const lines = day(
      "alder",
      `alder ${TUE} 07:20 09:20 work spruce-14 t1`,
      `alder ${TUE} 09:20 10:20 work spruce-14 t2`,
    );
    expect(brokenRules(company, planFrom(company, { lines, cost }))).toEqual([11]);
  });
  it("may not go to another crew", () => {
    const lines = day(
      "birch",
      `birch ${TUE} 07:20 08:20 work spruce-14 t2`,
      `birch ${TUE} 08:20 10:20 work spruce-14 t1`,
    );
    expect(brokenRules(company, planFrom(company, { lines, cost }))).toEqual([11]);
  });
  it("may not be planned for its full hours", () => {
    const lines = [
      `alder ${TUE} 07:00 07:20 setup spruce-14`,
      `alder ${TUE} 07:20 10:20 work spruce-14 t2`,
      `alder ${TUE} 10:20 12:00 work spruce-14 t1`,
      `alder ${TUE} 12:00 12:30 break`,
      `alder ${TUE} 12:30 12:50 work spruce-14 t1`,
      `alder ${TUE} 12:50 13:20 cleanup spruce-14`,
    ];
    expect(brokenRules(company, planFrom(company, { lines, cost: { idleCrewHours: 130 / 60 } }))).toEqual([
      6,
    ]);
  });
});

describe("a wall that another crew has under way", () => {
  const wallOf = (change: Partial<ReturnType<typeof aTask>>) =>
    parsed(
      aCompany({
        crews,
        policy: { openNights: 1 },
        jobs: [
          aJob({
            tasks: [
              aTask({ id: "strip", trade: "tear-off", laborHours: 9, units: 3, opens: true, ...change }),
              aTask({ id: "wrap", trade: "wrb", laborHours: 9, after: [{ task: "strip" }], closes: true }),
              aTask({ id: "t2", laborHours: 9, status: "under-way", doneBy: "alder", leftHours: 3 }),
            ],
          }),
        ],
      }),
    );
  // Alder closes behind birch, and only then goes on with what it has begun itself.
  const lines = [
    `birch ${TUE} 07:00 07:20 setup spruce-14`,
    `birch ${TUE} 07:20 08:20 work spruce-14 strip 1-1`,
    `birch ${TUE} 08:20 09:20 work spruce-14 strip 2-2`,
    `birch ${TUE} 09:20 10:20 work spruce-14 strip 3-3`,
    `birch ${TUE} 10:20 10:50 cover-up spruce-14`,
    `birch ${TUE} 10:50 11:20 cleanup spruce-14`,
    `alder ${TUE} 08:00 08:20 setup spruce-14`,
    `alder ${TUE} 08:20 09:20 work spruce-14 wrap 1-1`,
    `alder ${TUE} 09:20 10:20 work spruce-14 wrap 2-2`,
    `alder ${TUE} 10:20 11:20 work spruce-14 wrap 3-3`,
    `alder ${TUE} 11:20 12:00 work spruce-14 t2`,
    `alder ${TUE} 12:00 12:30 break`,
    `alder ${TUE} 12:30 12:50 work spruce-14 t2`,
    `alder ${TUE} 12:50 13:20 cleanup spruce-14`,
  ];
  const cost = { idleCrewHours: 410 / 60 };

  it("is under way for each crew that has a share in it, and may come before that crew's own", () => {
    const begun = wallOf({ status: "under-way", doneBy: "birch", leftHours: 9 });
    expect(checkPlan(begun, planFrom(begun, { lines, cost }))).toEqual([]);
  });
  it("may not, where nobody has begun it", () => {
    const untouched = wallOf({});
    expect(brokenRules(untouched, planFrom(untouched, { lines, cost }))).toContain(11);
  });
});

describe("published work", () => {
  const block = (date: string, released = false): NonNullable<CompanyInput["published"]>[number] => ({
    crew: "birch",
    kind: "work",
    job: "spruce-14",
    task: "t1",
    start: ny(date, "07:20"),
    end: ny(date, "09:20"),
    released,
  });
  const company = (...published: NonNullable<CompanyInput["published"]>) =>
    parsed(aCompany({ crews, jobs: [aJob({ tasks: [aTask()] })], published }));
  const words = (crew: string, date: string, changes: number) => ({
    lines: [
      `${crew} ${date} 07:00 07:20 setup spruce-14`,
      `${crew} ${date} 07:20 09:20 work spruce-14 t1`,
      `${crew} ${date} 09:20 09:50 cleanup spruce-14`,
    ],
    cost: { idleCrewHours: 310 / 60, changes },
  });
  const unkept = [{ job: "spruce-14", task: "t1", crew: "birch", date: WED, why: "The hold of Wednesday." }];

  it("keeps its crew and its day, even if another would be earlier", () => {
    const kept = company(block(WED));
    expect(checkPlan(kept, planFrom(kept, words("birch", WED, 0)))).toEqual([]);
  });
  it("may not move to another crew or day without a word", () => {
    const moved = company(block(WED));
    expect(brokenRules(moved, planFrom(moved, words("alder", WED, 1)))).toEqual([11]);
    expect(brokenRules(moved, planFrom(moved, words("birch", TUE, 1)))).toEqual([11]);
  });
  it("may move when it is listed as not kept, or was released, or lies beyond the freeze", () => {
    const listed = company(block(WED));
    expect(checkPlan(listed, planFrom(listed, { ...words("birch", TUE, 1), unkept }))).toEqual([]);
    const released = company(block(WED, true));
    expect(checkPlan(released, planFrom(released, words("alder", TUE, 1)))).toEqual([]);
    const later = company(block("2027-03-18"));
    expect(checkPlan(later, planFrom(later, words("alder", TUE, 1)))).toEqual([]);
  });
  it("may be done a day earlier by its crew where it is under way, for then it comes first", () => {
    const underWay = aTask({ status: "under-way", doneBy: "birch", leftHours: 6 });
    const early = parsed(aCompany({ crews, jobs: [aJob({ tasks: [underWay] })], published: [block(WED)] }));
    expect(checkPlan(early, planFrom(early, words("birch", TUE, 1)))).toEqual([]);
  });
  it("may not be listed as not kept where it was never published", () => {
    const none = company();
    expect(brokenRules(none, planFrom(none, { ...words("alder", TUE, 0), unkept }))).toEqual([11]);
  });
});
