/** Rule 11: what is under way comes first; published days inside the freeze are kept, or it is said why not. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask } from "../../support/company-builder.js";
import { becauseOf, planned, startOf, workOf } from "../planned.js";

const underWay = { status: "under-way", startedAt: "2027-03-15T13:00", doneBy: "alder" } as const;
const birch = aCrew({ id: "birch", name: "Birch", size: 6 });
type Published = NonNullable<NonNullable<CompanyInput["published"]>[number]>;
/** Alder's Wednesday morning, promised on Tuesday. */
const wednesday: Published = {
  crew: "alder",
  kind: "work",
  job: "spruce-14",
  task: "t1",
  start: "2027-03-17T07:20:00-04:00",
  end: "2027-03-17T09:20:00-04:00",
};
const promised = (block: Partial<Published> = {}, rest: Partial<CompanyInput> = {}) =>
  aCompany({ jobs: [aJob({ tasks: [aTask()] })], published: [{ ...wednesday, ...block }], ...rest });

describe("work under way", () => {
  it("comes before its crew's other work, and counts the hours that are left", () => {
    const tasks = [aTask(), aTask({ id: "t2", laborHours: 12, leftHours: 3, ...underWay })];
    const plan = planned(aCompany({ jobs: [aJob({ tasks })] }));
    expect(workOf(plan, "t2")).toEqual(["alder Tue 16 Mar 07:20-08:20"]);
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 08:20");
  });

  it("counts in full where nobody has said what is left", () => {
    const plan = planned(aCompany({ jobs: [aJob({ tasks: [aTask({ laborHours: 12, ...underWay })] })] }));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-11:20"]);
  });

  it("stays with the crew that has begun it, though a larger one is free", () => {
    const jobs = [aJob({ tasks: [aTask({ laborHours: 12, ...underWay })] })];
    const plan = planned(aCompany({ crews: [birch, aCrew()], jobs }));
    expect(plan.tasks[0]?.crew).toBe("alder");
  });

  it("goes on whatever its gates say now", () => {
    const plan = planned(
      aCompany({ jobs: [aJob({ tasks: [aTask({ ...underWay, notBefore: "2027-03-20" })] })] }),
    );
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 07:20");
  });
});

describe("done work", () => {
  it("is history: it is not in the plan, and what follows may start", () => {
    const done = { status: "done", finishedAt: "2027-03-15T15:00", doneBy: "alder" } as const;
    const tasks = [
      aTask({ ...done, startedAt: "2027-03-15T09:00" }),
      aTask({ id: "t2", after: [{ task: "t1" }] }),
    ];
    const plan = planned(aCompany({ jobs: [aJob({ tasks })] }));
    expect(plan.tasks.map(({ task }) => task)).toEqual(["t2"]);
    expect(startOf(plan, "t2")).toBe("Tue 16 Mar 07:20");
  });
});

describe("a published day", () => {
  it("of tomorrow is kept, although today is free", () => {
    const plan = planned(promised());
    expect(startOf(plan, "t1")).toBe("Wed 17 Mar 07:20");
    expect(becauseOf(plan, "t1").kind).toBe("published");
    expect([plan.unkept, plan.cost.changes]).toEqual([[], 0]);
  });

  it("keeps its crew, though a larger one is free", () => {
    const plan = planned(promised({}, { crews: [birch, aCrew()] }));
    expect(workOf(plan, "t1")).toEqual(["alder Wed 17 Mar 07:20-09:20"]);
  });

  it("moves when a person has released it, which counts as a change", () => {
    const plan = planned(promised({ released: true }));
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 07:20");
    expect(plan.cost.changes).toBe(1);
  });

  it("beyond the freeze may move", () => {
    const thursday = { start: "2027-03-18T07:20:00-04:00", end: "2027-03-18T09:20:00-04:00" };
    expect(startOf(planned(promised(thursday)), "t1")).toBe("Tue 16 Mar 07:20");
  });

  it("that a hold makes impossible is listed with the hold as its reason", () => {
    const holds = [
      {
        id: "h1",
        from: "2027-03-17T00:00",
        to: "2027-03-18T00:00",
        trades: "outdoor" as const,
        jobs: "all" as const,
        why: "rain",
      },
    ];
    const plan = planned(promised({}, { holds }));
    expect(startOf(plan, "t1")).toBe("Thu 18 Mar 07:20");
    expect(plan.unkept).toMatchObject([{ job: "spruce-14", task: "t1", crew: "alder", date: "2027-03-17" }]);
    expect(plan.unkept[0]?.why).toBe("On hold (rain) until the end of Wed 17 Mar.");
  });

  it("of a crew that may no longer work it is listed, and the task goes to another", () => {
    const crews = [aCrew({ trades: { trim: 1 } }), birch];
    const plan = planned(promised({}, { crews }));
    expect(plan.tasks[0]?.crew).toBe("birch");
    expect(plan.unkept[0]?.why).toBe("Crew Alder may no longer work it at 14 Spruce Lane.");
  });
});
