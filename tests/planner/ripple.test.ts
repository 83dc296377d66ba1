/** What a change moves: two plans of one minute in the order of the plan that stood, without what time has done. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { zoneOfJob, type Company, type CompanyInput } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { parseInstant, type Minute } from "../../src/domain/time.js";
import { toWallText } from "../../src/domain/wall-text.js";
import { planCompany } from "../../src/planner/plan.js";
import type { TaskMove } from "../../src/planner/ways-out/plan-difference.js";
import { findRipple, type Ripple } from "../../src/planner/ways-out/ripple.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { aCrew, aTask, parsed } from "../support/company-builder.js";
import { propertySeed } from "../support/property-seed.js";
import { minuteOf, planned } from "./planned.js";
import { birch, sideElm, sideSpruce, twoHouses } from "./ways-out-houses.js";

/** What lies between two files at a wall time, by the plan that was made of the first at the start of Tuesday. */
function rippleOf(before: CompanyInput, after: CompanyInput, time: string): Ripple {
  const was = parsed(before);
  return findRipple(was, parsed(after), planned(before), minuteOf(was, `2027-03-${time}`));
}

const movesOf = ({ difference }: Ripple): string[] => difference.moved.map(sayMove);

function sayMove({ task, before, after }: TaskMove): string {
  const days = (place: TaskMove["before"]): string =>
    place === null
      ? "nowhere"
      : `${place.crews.join("+")} ${place.dates.map((date) => date.slice(8)).join("+")}`;
  return `${task}: ${days(before)} → ${days(after)}`;
}

/** Spruce takes Tuesday until half past two by the plan, Elm Wednesday. */
const spruce = (task: Partial<ReturnType<typeof aTask>>, elm: Partial<ReturnType<typeof aTask>> = {}) =>
  twoHouses({
    spruce: { tasks: [aTask({ ...sideSpruce, ...task })] },
    elm: { promised: "2027-03-17", tasks: [aTask({ ...sideElm, ...elm })] },
  });
const begun = { status: "under-way", doneBy: "alder", startedAt: "2027-03-16T07:20" } as const;
const done = { status: "done", doneBy: "alder", startedAt: "2027-03-16T07:20" } as const;

const nothing = { moved: [], promises: [] };

describe("a ripple", () => {
  it("is what more hours push on behind them, and the promises that break by it", () => {
    const ripple = rippleOf(twoHouses(), spruce({ laborHours: 40 }), "16T07:00");
    expect(movesOf(ripple)).toEqual(["spruce: alder 16 → alder 16+17", "elm: alder 17 → alder 17+18"]);
    expect(ripple.difference.promises.map(({ job, kind }) => `${job} ${kind}`)).toEqual([
      "spruce-14 broken",
      "elm-3 broken",
    ]);
  });

  it("is what work that is done sooner brings forward", () => {
    const finished = { ...done, finishedAt: "2027-03-16T11:00" };
    expect(movesOf(rippleOf(twoHouses(), spruce(finished), "16T11:00"))).toEqual([
      "elm: alder 17 → alder 16+17",
    ]);
  });

  it("brings a house that only waits for its inspection forward with its work", () => {
    const wait = {
      id: "w1",
      trade: null,
      title: "Inspection",
      waitBusinessDays: 1,
      after: [{ task: "elm" }],
    };
    const elm = (task: Partial<ReturnType<typeof aTask>>) =>
      twoHouses({ elm: { promised: "2027-03-17", tasks: [aTask({ ...sideElm, ...task }), wait] } });
    const finished = { status: "done", doneBy: "alder", finishedAt: "2027-03-16T09:00" } as const;
    const { promises } = rippleOf(elm({}), elm(finished), "16T09:00").difference;
    expect(promises).toMatchObject([{ job: "elm-3", lateBefore: 1, lateAfter: 0, kind: "saved" }]);
  });

  it("is what a hold pushes on", () => {
    const hold = { id: "h9", to: "2027-03-17T00:00", trades: ["siding"], jobs: ["spruce-14"], why: "stuck" };
    const stuck = (from: string) => twoHouses({ holds: [{ ...hold, from }] });
    const moved = ["spruce: alder 16 → alder 16+17", "elm: alder 17 → alder 17+18"];
    expect(movesOf(rippleOf(twoHouses(), stuck("2027-03-16T11:00"), "16T11:00"))).toEqual(moved);
    // What was held from nine on has not been worked on since, though it comes to be known at two.
    expect(movesOf(rippleOf(twoHouses(), stuck("2027-03-16T09:00"), "16T14:00"))).toEqual(moved);
  });
});

describe("what time has done", () => {
  it("is in no ripple of a change that alters nothing", () => {
    for (const time of ["16T00:00", "16T11:00", "16T15:00", "17T09:00"]) {
      expect(rippleOf(twoHouses(), twoHouses(), time).difference).toMatchObject(nothing);
    }
  });

  it("is in no ripple of work that is begun, left and done as the plan has it", () => {
    for (const [task, time] of [
      [begun, "16T07:20"],
      // Three people have done 3 hours 40 minutes of 6 hours 40.
      [{ ...begun, leftHours: 9 }, "16T11:00"],
      [{ ...done, finishedAt: "2027-03-16T14:30" }, "16T14:30"],
      [{ ...done, finishedAt: "2027-03-16T14:20" }, "16T14:20"],
    ] as const) {
      expect([time, rippleOf(twoHouses(), spruce(task), time).difference]).toMatchObject([time, nothing]);
    }
  });

  it("is not in the ripple of more hours left than the plan had at that minute", () => {
    const at = (leftHours: number, time: string): string[] =>
      movesOf(rippleOf(twoHouses(), spruce({ ...begun, leftHours }), time));
    expect(at(12, "16T11:00")).toEqual(at(4, "16T13:40"));
    expect(at(24, "16T11:00")).toEqual(["spruce: alder 16 → alder 16+17", "elm: alder 17 → alder 17+18"]);
  });

  it("takes a start that comes late for what it is: work that has not been done", () => {
    const late = { ...begun, startedAt: "2027-03-16T11:00" };
    expect(movesOf(rippleOf(twoHouses(), spruce(late), "16T11:00"))[0]).toBe(
      "spruce: alder 16 → alder 16+17",
    );
  });

  it("has not begun what comes behind work that is said to go on", () => {
    const ripple = rippleOf(twoHouses(), spruce({ ...begun, leftHours: 15 }), "17T10:00");
    // By the plan Elm would be half done by then.
    expect(movesOf(ripple)).toEqual(["spruce: alder 16 → alder 17+18", "elm: alder 17 → alder 18+19"]);
  });

  it("goes on with other crews by the plan, whatever one of them says", () => {
    const crews = [aCrew(), birch];
    const files = [{}, { ...begun, leftHours: 24 }].map((task) => ({ ...spruce(task), crews }));
    const [before, after] = files as [CompanyInput, CompanyInput];
    expect(movesOf(rippleOf(before, after, "16T13:00"))).toEqual(["spruce: alder 16 → alder 16+17"]);
  });
});

describe("each of two changes in a row", () => {
  it("has its own part, though no plan was made in between", () => {
    const [none, one, two] = [
      spruce({}),
      spruce({ laborHours: 40 }),
      spruce({ laborHours: 40 }, { laborHours: 40 }),
    ];
    const [standing, asOf] = [planned(none), minuteOf(parsed(none), "2027-03-16T07:00")];
    const between = (was: CompanyInput, now: CompanyInput) =>
      movesOf(findRipple(parsed(was), parsed(now), standing, asOf));
    expect(between(none, one)).toEqual(["spruce: alder 16 → alder 16+17", "elm: alder 17 → alder 17+18"]);
    expect(between(one, two)).toEqual(["elm: alder 17+18 → alder 17+18+19"]);
  });
});

describe("the ripple of any company", () => {
  it("against itself is empty at any minute, and of work done as planned", () => {
    fc.assert(
      fc.property(
        anyCompanyFile(),
        fc.integer({ min: 0, max: 60 * 60 }),
        fc.nat(1000),
        (file, later, pick) => {
          const company = parsed(file.input);
          const standing = planCompany(company, { asOf: file.asOf, seed: 3, iterations: 1 });
          const asOf = file.asOf + later;
          const after = finishOne(company, standing, asOf, pick);
          for (const one of [company, after]) {
            const { moved, promises } = findRipple(company, one, standing, asOf).difference;
            expect(moved).toEqual([]);
            expect(promises.filter(({ kind }) => kind !== "as-late")).toEqual([]);
          }
        },
      ),
      { numRuns: 20, seed: propertySeed(20_270_316) },
    );
  }, 120_000);
});

/** The company with something said to be done that its plan has finished by then, as long as there is something. */
function finishOne(company: Company, standing: Plan, asOf: Minute, pick: number): Company {
  const { timeZone } = company.company;
  const over = standing.tasks.flatMap(({ job, task, crew, end }) => {
    const minute = present(parseInstant(end, timeZone), "the end of a planned task");
    return crew !== null && minute <= asOf ? [{ job, task, crew, minute }] : [];
  });
  const one = over[pick % Math.max(1, over.length)];
  if (one === undefined) return company;
  const jobs = company.jobs.map((job) => ({
    ...job,
    tasks: job.tasks.map((task) => {
      if (job.id !== one.job || task.id !== one.task) return task;
      const finishedAt = toWallText(one.minute, zoneOfJob(company, job));
      return { ...task, status: "done" as const, leftHours: null, doneBy: one.crew, finishedAt };
    }),
  }));
  return { ...company, jobs };
}
