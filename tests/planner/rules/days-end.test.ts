/** Rules 9 and 10: setup, cleanup, loading and the way of each visit; and equipment, which stays overnight. */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask, aTrade, TRADES } from "../../support/company-builder.js";
import { becauseOf, blocksOf, planned, startOf, workOf } from "../planned.js";

const everyBlock = ["load", "travel", "setup", "work", "cover-up", "cleanup"] as const;

describe("rule 9, a visit", () => {
  it("begins with setup and ends with cleanup", () => {
    const plan = planned(aCompany({ jobs: [aJob({ tasks: [aTask()] })] }));
    expect(blocksOf(plan, ...everyBlock)).toEqual([
      "alder Tue 16 Mar 07:00-07:20 spruce-14",
      "alder Tue 16 Mar 07:20-09:20 spruce-14",
      "alder Tue 16 Mar 09:20-09:50 spruce-14",
    ]);
  });

  it("has the largest setup and the largest cleanup of the trades worked in it", () => {
    const trades = TRADES.map((trade) =>
      trade.id === "stone" ? aTrade({ ...trade, setupMinutes: 45, cleanupMinutes: 50 }) : trade,
    );
    const tasks = [aTask(), aTask({ id: "t2", trade: "stone", after: [{ task: "t1" }] })];
    const plan = planned(aCompany({ trades, jobs: [aJob({ tasks })] }));
    expect(blocksOf(plan, "setup", "cleanup")).toEqual([
      "alder Tue 16 Mar 07:00-07:45 spruce-14",
      "alder Tue 16 Mar 12:30-13:20 spruce-14",
    ]);
  });

  it("has neither for work that needs none", () => {
    const plan = planned(aCompany({ jobs: [aJob({ tasks: [aTask({ trade: "shop" })] })] }));
    expect(blocksOf(plan, ...everyBlock)).toEqual(["alder Tue 16 Mar 07:00-09:00 spruce-14"]);
  });

  it("to a house where the crew has been that day sets up again", () => {
    const jobs = [
      aJob({ tasks: [aTask(), aTask({ id: "t3", laborHours: 3, notBefore: "2027-03-16T13:00" })] }),
      aJob({ id: "elm-3", tasks: [aTask({ id: "t2", notBefore: "2027-03-16T09:00" })] }),
    ];
    const plan = planned(aCompany({ jobs }));
    expect(blocksOf(plan, ...everyBlock)).toEqual([
      "alder Tue 16 Mar 07:00-07:20 spruce-14",
      "alder Tue 16 Mar 07:20-09:20 spruce-14",
      "alder Tue 16 Mar 09:20-09:50 spruce-14",
      "alder Tue 16 Mar 09:50-09:55 elm-3",
      "alder Tue 16 Mar 09:55-10:15 elm-3",
      "alder Tue 16 Mar 10:15-12:00 elm-3",
      "alder Tue 16 Mar 12:30-12:45 elm-3",
      "alder Tue 16 Mar 12:45-13:15 elm-3",
      "alder Tue 16 Mar 13:15-13:20 spruce-14",
      "alder Tue 16 Mar 13:20-13:40 spruce-14",
      "alder Tue 16 Mar 13:40-14:40 spruce-14",
      "alder Tue 16 Mar 14:40-15:10 spruce-14",
    ]);
  });
});

describe("a crew that starts at the yard", () => {
  const crews = [aCrew({ startsAt: "yard" })];

  it("loads for fifteen minutes, drives out, and is back before the shift ends", () => {
    // 2.3 miles: 5 + 2.3 · 1.3 / 30 · 60 = 10.98, so 11 minutes.
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks: [aTask({ laborHours: 24 })] })] }));
    expect(blocksOf(plan, ...everyBlock).slice(0, 7)).toEqual([
      "alder Tue 16 Mar 07:00-07:15 spruce-14",
      "alder Tue 16 Mar 07:15-07:26 spruce-14",
      "alder Tue 16 Mar 07:26-07:46 spruce-14",
      "alder Tue 16 Mar 07:46-12:00 spruce-14",
      "alder Tue 16 Mar 12:30-14:49 spruce-14",
      "alder Tue 16 Mar 14:49-15:19 spruce-14",
      "alder Tue 16 Mar 15:19-15:30 yard",
    ]);
    expect(workOf(plan, "t1").at(-1)).toBe("alder Wed 17 Mar 07:46-09:13");
  });

  it("may load and drive before first light, and waits for it at the yard", () => {
    const early = [aCrew({ startsAt: "yard", week: { tue: ["06:00", "15:30"] } })];
    const plan = planned(aCompany({ crews: early, jobs: [aJob({ tasks: [aTask()] })] }), "2026-12-08T00:00");
    expect(blocksOf(plan, "load", "travel", "setup").slice(0, 3)).toEqual([
      "alder Tue 8 Dec 06:36-06:51 spruce-14",
      "alder Tue 8 Dec 06:51-07:02 spruce-14",
      "alder Tue 8 Dec 07:02-07:22 spruce-14",
    ]);
  });
});

describe("rule 10, equipment", () => {
  const crews = [aCrew(), aCrew({ id: "birch", name: "Birch" })];
  const equipment = { lift: 1 };
  const jobs = [
    aJob({ tasks: [aTask({ laborHours: 24, crew: "alder", equipment })] }),
    aJob({
      id: "elm-3",
      tasks: [aTask({ id: "t2", laborHours: 3, crew: "birch", equipment, notBefore: "2027-03-16T09:00" })],
    }),
  ];
  const lifts = (count: number) => [{ id: "lift", name: "Boom lift", count }];

  it("that is held overnight keeps the other house waiting", () => {
    const plan = planned(aCompany({ crews, equipment: lifts(1), jobs }));
    expect(workOf(plan, "t1").at(-1)).toBe("alder Wed 17 Mar 07:20-08:10");
    expect(workOf(plan, "t2")).toEqual(["birch Wed 17 Mar 08:10-09:10"]);
    expect(becauseOf(plan, "t2")).toMatchObject({ kind: "equipment", by: { job: "spruce-14", task: "t1" } });
  });

  it("keeps nobody waiting where there is one for each", () => {
    const plan = planned(aCompany({ crews, equipment: lifts(2), jobs }));
    expect([startOf(plan, "t1"), startOf(plan, "t2")]).toEqual(["Tue 16 Mar 07:20", "Tue 16 Mar 09:00"]);
  });

  it("of which a task needs two is waited for until both are free", () => {
    const cedar = aCrew({ id: "cedar", name: "Cedar" });
    const both = aTask({ id: "t3", crew: "cedar", equipment: { lift: 2 }, notBefore: "2027-03-16T09:30" });
    const company = aCompany({
      crews: [...crews, cedar],
      equipment: lifts(2),
      jobs: [...jobs, aJob({ id: "oak-9", tasks: [both] })],
    });
    // Birch lets go of one on Tuesday at 10:00, Alder of the other on Wednesday at 8:10.
    expect(startOf(planned(company), "t3")).toBe("Wed 17 Mar 08:10");
  });

  it("of a task under way has been held since before the plan", () => {
    const underWay = {
      status: "under-way",
      startedAt: "2027-03-15T13:00",
      doneBy: "alder",
      leftHours: 12,
    } as const;
    const [spruce, elm] = [
      aJob({ tasks: [aTask({ laborHours: 24, equipment, ...underWay, notBefore: null })] }),
      aJob({ id: "elm-3", tasks: [aTask({ id: "t2", laborHours: 3, crew: "birch", equipment })] }),
    ];
    const alderIsOff = aCrew({ off: [{ from: "2027-03-16", to: "2027-03-16" }] });
    const company = aCompany({
      crews: [alderIsOff, ...crews.slice(1)],
      equipment: lifts(1),
      jobs: [elm, spruce],
    });
    expect(startOf(planned(company), "t2")).toBe("Wed 17 Mar 11:20");
  });
});
