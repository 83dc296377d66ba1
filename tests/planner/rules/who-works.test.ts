/** Rules 1 and 2: who may work a task, how long it takes, and that a crew is in one place at a time. */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask } from "../../support/company-builder.js";
import { blocksOf, planned, workOf } from "../planned.js";

const birch = aCrew({ id: "birch", name: "Birch", size: 6 });
const oneHouse = (...tasks: NonNullable<ReturnType<typeof aJob>["tasks"]>) => [aJob({ tasks })];

describe("the length of a task", () => {
  it("is four hours for twelve labor-hours and a crew of three at pace 1", () => {
    const plan = planned(aCompany({ jobs: oneHouse(aTask({ laborHours: 12 })) }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-11:20"]);
  });

  it("is rounded up to a whole minute for a slower crew: 342.9 minutes at pace 0.7 are 343", () => {
    const crews = [aCrew({ trades: { siding: 0.7 } })];
    const plan = planned(aCompany({ crews, jobs: oneHouse(aTask({ laborHours: 12 })) }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-12:00", "alder Tue 16 Mar 12:30-13:33"]);
  });
});

describe("rule 1, eligible", () => {
  it("gives a task to a crew that has its trade, even if another is free sooner", () => {
    const crews = [
      aCrew({ trades: { trim: 1 } }),
      aCrew({ ...birch, trades: { siding: 1 }, off: [{ from: "2027-03-16", to: "2027-03-16" }] }),
    ];
    const plan = planned(aCompany({ crews, jobs: oneHouse(aTask()) }));
    expect(workOf(plan, "t1")).toEqual(["birch Wed 17 Mar 07:20-08:20"]);
  });

  it("lets a task for four people wait for a crew that is four strong", () => {
    const four = aCrew({ ...birch, size: 4, off: [{ from: "2027-03-16", to: "2027-03-17" }] });
    const plan = planned(aCompany({ crews: [aCrew(), four], jobs: oneHouse(aTask({ minCrew: 4 })) }));
    expect(workOf(plan, "t1")).toEqual(["birch Thu 18 Mar 07:20-08:50"]);
  });

  it("gives a task to the crew that is named for it, even if another would be done sooner", () => {
    const jobs = oneHouse(aTask({ laborHours: 12, crew: "alder" }));
    const plan = planned(aCompany({ crews: [birch, aCrew()], jobs }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-11:20"]);
  });
});

describe("rule 2, one place", () => {
  it("has a task worked by one crew, however many are free", () => {
    const twin = aCrew({ ...aCrew(), id: "birch", name: "Birch" });
    const plan = planned(aCompany({ crews: [aCrew(), twin], jobs: oneHouse(aTask({ laborHours: 12 })) }));
    expect(plan.blocks.filter((block) => block.kind === "work")).toHaveLength(1);
  });

  it("has a crew do one task after the other, and drive between houses", () => {
    const jobs = [
      aJob({ tasks: [aTask()] }),
      aJob({
        id: "elm-3",
        name: "3 Elm Street",
        tasks: [aTask({ id: "t2", notBefore: "2027-03-16T07:30" })],
      }),
    ];
    const plan = planned(aCompany({ jobs }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-09:20"]);
    // Cleanup to 9:50, the fixed five minutes of any drive, setup to 10:15.
    expect(blocksOf(plan, "travel")).toEqual(["alder Tue 16 Mar 09:50-09:55 elm-3"]);
    expect(workOf(plan, "t2")).toEqual(["alder Tue 16 Mar 10:15-12:00", "alder Tue 16 Mar 12:30-12:45"]);
  });

  it("has two crews at two houses at once", () => {
    const jobs = [
      aJob({ tasks: [aTask({ crew: "alder" })] }),
      aJob({ id: "elm-3", name: "3 Elm Street", tasks: [aTask({ id: "t2", crew: "birch" })] }),
    ];
    const plan = planned(aCompany({ crews: [aCrew(), birch], jobs }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-09:20"]);
    expect(workOf(plan, "t2")).toEqual(["birch Tue 16 Mar 07:20-08:20"]);
  });
});
