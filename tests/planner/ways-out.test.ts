/** Ways out of each kind of slip: the order held, other orders, other crews; and what they are compared with. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { listWaysOut } from "../../src/planner/ways-out.js";
import { aCrew, aTask, parsed } from "../support/company-builder.js";
import { minuteOf, planned, TUESDAY, workOf } from "./planned.js";
import {
  alderOut,
  birch,
  needingSiding,
  NOTHING,
  rainOnTuesday,
  rot,
  sideSpruce,
  sooner,
  stripAndSide,
  twoHouses,
  wayOf,
  waysOut,
  work,
} from "./ways-out-houses.js";

describe("hold the order", () => {
  it("lets the next house wait when a task takes more hours", () => {
    const after = twoHouses({ spruce: { tasks: [aTask({ ...sideSpruce, laborHours: 32 })] } });
    const held = wayOf(waysOut(twoHouses(), after), "hold");
    expect(work(held, "spruce")).toEqual([
      "alder Tue 16 Mar 07:20-12:00",
      "alder Tue 16 Mar 12:30-15:00",
      "alder Wed 17 Mar 07:20-10:50",
    ]);
    expect(work(held, "elm")[0]).toBe("alder Wed 17 Mar 11:48-12:00");
    expect(held.difference.promises).toEqual([
      { job: "spruce-14", promised: "2027-03-16", lateBefore: 0, lateAfter: 1, kind: "broken" },
      { job: "elm-3", promised: "2027-03-17", lateBefore: 0, lateAfter: 1, kind: "broken" },
    ]);
    expect(held.figures).toMatchObject({
      promisesBroken: 2,
      promisesSaved: 0,
      lateDays: 2,
      tasksMoved: 2,
      calls: 2,
    });
  });

  it("lets a crew's house wait while the crew is out, though another crew is free", () => {
    const held = wayOf(waysOut(twoHouses({ crews: [aCrew(), birch] }), alderOut()), "hold");
    expect(work(held, "spruce")[0]).toBe("alder Fri 19 Mar 07:20-12:00");
    expect(work(held, "elm")[0]).toBe("birch Tue 16 Mar 07:20-12:00");
  });

  it("keeps a crew waiting for a delivery rather than let it go on to the next house", () => {
    const held = wayOf(waysOut(needingSiding("2027-03-10"), needingSiding("2027-03-17")), "hold");
    expect(work(held, "spruce")[0]).toBe("alder Thu 18 Mar 07:20-12:00");
    expect(work(held, "elm")[0]).toBe("alder Fri 19 Mar 07:20-12:00");
  });

  it("keeps a crew waiting for the end of a hold", () => {
    const held = wayOf(waysOut(twoHouses(), twoHouses({ holds: [rainOnTuesday] })), "hold");
    expect(work(held, "spruce")[0]).toBe("alder Wed 17 Mar 07:20-12:00");
    expect(work(held, "elm")[0]).toBe("alder Thu 18 Mar 07:20-12:00");
  });

  it("keeps a crew waiting for a house that is paused", () => {
    const paused = twoHouses({ spruce: { tasks: [aTask({ ...sideSpruce, notBefore: "2027-03-18" })] } });
    const held = wayOf(waysOut(twoHouses(), paused), "hold");
    expect(work(held, "spruce")[0]).toBe("alder Thu 18 Mar 07:20-12:00");
    expect(work(held, "elm")[0]).toBe("alder Fri 19 Mar 07:20-12:00");
  });

  it("moves nothing when only a promised date changes, and says what is late by it", () => {
    const held = wayOf(waysOut(twoHouses(), sooner), "hold");
    expect(held.difference).toMatchObject({ moved: [], days: [], calls: [] });
    expect(held.difference.promises).toEqual([
      { job: "elm-3", promised: "2027-03-16", lateBefore: 1, lateAfter: 1, kind: "as-late" },
    ]);
  });

  it("has a task that has come in done by the crew at the house, right before what waits for it", () => {
    const held = wayOf(waysOut(stripAndSide([]), stripAndSide([rot])), "hold");
    expect(work(held, "strip")).toEqual(["birch Tue 16 Mar 07:20-10:20"]);
    expect(work(held, "rot")[0]).toBe("birch Tue 16 Mar 10:20-12:00");
    expect(work(held, "side")[0]).toBe("birch Tue 16 Mar 12:50-15:00");
    expect(work(held, "elm")[0]).toBe("alder Tue 16 Mar 07:20-12:00");
    expect(held.difference.moved[0]).toEqual({
      job: "spruce-14",
      task: "rot",
      before: null,
      after: { crews: ["birch"], dates: ["2027-03-16"] },
    });
  });

  it("has a task that nothing waits for done behind the crew's other work at the house", () => {
    const held = wayOf(waysOut(stripAndSide([]), stripAndSide([{ ...rot, after: [] }], true)), "hold");
    expect(work(held, "side")[0]).toBe("birch Tue 16 Mar 10:20-12:00");
    expect(work(held, "rot")[0]).toBe("birch Tue 16 Mar 13:50-15:00");
  });

  it("does not count a house as broken by work that has come in where it was late before", () => {
    const late = { promised: "2027-03-12" };
    const held = wayOf(waysOut(stripAndSide([], false, late), stripAndSide([rot], false, late)), "hold");
    expect(held.difference.promises).toEqual([
      { job: "spruce-14", promised: "2027-03-12", lateBefore: 4, lateAfter: 5, kind: "later" },
    ]);
    expect(held.figures.promisesBroken).toBe(0);
  });

  it("gives a task to another crew only where its own can never work it", () => {
    const gone = twoHouses({ crews: [aCrew({ trades: { stone: 1 } }), birch] });
    const held = wayOf(waysOut(twoHouses({ crews: [aCrew(), birch] }), gone), "hold");
    expect(work(held, "spruce")[0]).toMatch(/^birch /);
  });
});

describe("resequence", () => {
  it("sends the crew on to the next house while a delivery is late", () => {
    const ways = waysOut(needingSiding("2027-03-10"), needingSiding("2027-03-17"), { resequence: true });
    const way = wayOf(ways, "resequence");
    expect(work(way, "elm")[0]).toBe("alder Tue 16 Mar 07:20-12:00");
    expect(work(way, "spruce")[0]).toBe("alder Thu 18 Mar 07:20-12:00");
    expect(way.figures).toMatchObject({ promisesBroken: 1, lateDays: 2 });
  });

  it("saves a promised date that was brought forward", () => {
    const way = wayOf(waysOut(twoHouses(), sooner, { resequence: true }), "resequence");
    expect(work(way, "elm")[0]).toBe("alder Tue 16 Mar 07:20-12:00");
    expect(way.difference.promises).toEqual([
      { job: "elm-3", promised: "2027-03-16", lateBefore: 1, lateAfter: 0, kind: "saved" },
    ]);
    expect(way.figures).toMatchObject({ promisesSaved: 1, lateDays: 0 });
  });

  it("is not among the ways where it is not permitted", () => {
    expect(waysOut(twoHouses(), sooner).map(({ key }) => key)).toEqual(["hold"]);
  });
});

describe("lend", () => {
  it("lets a crew that has the trade take the work of one that is out, and names what it takes", () => {
    const way = wayOf(waysOut(twoHouses({ crews: [aCrew(), birch] }), alderOut(), { lend: true }), "lend");
    expect(work(way, "spruce")[0]).toBe("birch Tue 16 Mar 07:20-12:00");
    expect(way.permissionsUsed).toEqual([
      { kind: "lend", job: "spruce-14", task: "spruce", from: "alder", to: "birch" },
    ]);
    expect(way.figures).toMatchObject({ promisesBroken: 0, lateDays: 0 });
  });

  it("takes nothing from a crew that has begun it", () => {
    const begun = { tasks: [aTask({ ...sideSpruce, status: "under-way", doneBy: "alder", leftHours: 12 })] };
    const crews = [aCrew(), birch];
    const ways = waysOut(twoHouses({ crews, spruce: begun }), alderOut(begun), { lend: true });
    for (const way of ways) expect(work(way, "spruce")[0]).toMatch(/^alder Fri 19 Mar/);
  });

  it("is not offered by a crew that does not do the trade", () => {
    const mason = aCrew({ id: "birch", name: "Birch", trades: { stone: 1 } });
    const ways = waysOut(twoHouses({ crews: [aCrew(), mason] }), alderOut({}, mason), { lend: true });
    expect(ways.map(({ key }) => key)).toEqual(["hold"]);
  });
});

describe("the difference of a way", () => {
  it("is taken against what is published, where something is", () => {
    const before = twoHouses();
    const after = twoHouses({ spruce: { tasks: [aTask({ ...sideSpruce, laborHours: 32 })] } });
    const published = planned(before).blocks;
    const company = parsed({ ...after, published });
    const asOf = minuteOf(company, TUESDAY);
    // The standing plan has drifted since: by it nothing moves any more.
    const standing = planned(after);
    const [held] = listWaysOut(company, { asOf, seed: 1, standing, permissions: NOTHING });
    expect(held?.difference.moved.map(({ task }) => task)).toEqual(["spruce", "elm"]);
    const [unpublished] = listWaysOut(parsed(after), { asOf, seed: 1, standing, permissions: NOTHING });
    expect(unpublished?.difference.moved).toEqual([]);
  });

  it("tells of each changed day of a crew what it did and what it does", () => {
    const held = wayOf(waysOut(twoHouses(), twoHouses({ holds: [rainOnTuesday] })), "hold");
    const spruce = { job: "spruce-14", task: "spruce" };
    const elm = { job: "elm-3", task: "elm" };
    expect(held.difference.days).toEqual([
      { date: "2027-03-16", crew: "alder", before: [spruce], after: [] },
      { date: "2027-03-17", crew: "alder", before: [elm], after: [spruce] },
      { date: "2027-03-18", crew: "alder", before: [], after: [elm] },
    ]);
  });

  it("has a call for each homeowner, subcontractor and supplier whose dates change, with old and new", () => {
    const sub = (expected: string) => ({ ...needingSiding(expected), crews: [aCrew({ kind: "sub" })] });
    const held = wayOf(waysOut(sub("2027-03-10"), sub("2027-03-17")), "hold");
    expect(held.difference.calls).toEqual([
      {
        kind: "homeowner",
        job: "spruce-14",
        before: ["2027-03-16"],
        after: ["2027-03-18"],
        old: "2027-03-16",
        new: "2027-03-18",
      },
      {
        kind: "homeowner",
        job: "elm-3",
        before: ["2027-03-17"],
        after: ["2027-03-19"],
        old: "2027-03-17",
        new: "2027-03-19",
      },
      {
        kind: "sub",
        crew: "alder",
        before: ["2027-03-16", "2027-03-17"],
        after: ["2027-03-18", "2027-03-19"],
        old: "2027-03-16",
        new: "2027-03-18",
      },
      { kind: "supplier", job: "spruce-14", delivery: "d1", old: "2027-03-16", new: "2027-03-18" },
    ]);
  });
});

describe("what is published inside the freeze", () => {
  it("stays with its crew and day, whatever is permitted", () => {
    const crews = [aCrew(), birch];
    const frozen = (edits: Parameters<typeof twoHouses>[0]) => ({
      ...twoHouses(edits),
      policy: { freezeDays: 2 },
    });
    const before = frozen({ crews });
    const more = frozen({
      crews,
      spruce: { tasks: [aTask({ ...sideSpruce, laborHours: 32 })], promised: "2027-03-16" },
    });
    for (const way of waysOut(before, more, { resequence: true, lend: true }, true)) {
      expect(work(way, "elm")[0]).toBe("birch Tue 16 Mar 07:20-12:00");
      expect(work(way, "spruce")[0]).toBe("alder Tue 16 Mar 07:20-12:00");
    }
  });

  it("is not pushed aside by work that has come in and is not published", () => {
    const frozen = (more: ReturnType<typeof aTask>[]): CompanyInput => ({
      ...twoHouses({ spruce: { tasks: [aTask({ id: "strip", laborHours: 15 }), ...more] } }),
      policy: { freezeDays: 2 },
    });
    const long = aTask({ ...rot, laborHours: 40 });
    const waiting = aTask({ id: "later", laborHours: 3, after: [{ task: "rot" }] });
    const before = frozen([]);
    const held = wayOf(waysOut(before, frozen([long, waiting]), {}, true), "hold");
    expect(work(held, "elm")).toEqual(workOf(planned(before), "elm"));
    expect(held.explain().unkept).toEqual([]);
  });

  it("may be lent once its crew cannot keep it: taking the way releases it", () => {
    const frozen = (input: CompanyInput): CompanyInput => ({ ...input, policy: { freezeDays: 2 } });
    const ways = waysOut(
      frozen(twoHouses({ crews: [aCrew(), birch] })),
      frozen(alderOut()),
      { lend: true },
      true,
    );
    expect(wayOf(ways, "hold").explain().unkept).toHaveLength(1);
    const way = wayOf(ways, "lend");
    expect(work(way, "spruce")[0]).toMatch(/^birch /);
    expect(way.edits).toEqual([{ kind: "release", job: "spruce-14", task: "spruce" }]);
    // What can be kept is kept.
    expect(work(way, "elm")[0]).toBe("birch Tue 16 Mar 07:20-12:00");
  });

  it("keeps nobody waiting once it cannot be kept", () => {
    const frozen = (expected: string): CompanyInput => ({
      ...needingSiding(expected),
      policy: { freezeDays: 1 },
    });
    const ways = waysOut(frozen("2027-03-10"), frozen("2027-03-22"), { resequence: true }, true);
    expect(work(wayOf(ways, "hold"), "elm")[0]).toBe("alder Wed 24 Mar 07:20-12:00");
    expect(work(wayOf(ways, "resequence"), "elm")[0]).toBe("alder Wed 17 Mar 07:20-12:00");
  });
});
