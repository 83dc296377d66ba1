/** Rules 12 and 13: everything is planned or listed, and nothing could start earlier. */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask } from "../../support/company-builder.js";
import { becauseOf, planned, startOf, whyNot } from "../planned.js";

describe("rule 12, complete", () => {
  it("plans everything else when one task is impossible, and says why it is", () => {
    const crews = [aCrew(), aCrew({ id: "birch", name: "Birch", trades: { trim: 1 } })];
    const tasks = [
      aTask({ crew: "birch" }),
      aTask({ id: "t2" }),
      aTask({ id: "t3", after: [{ task: "t1" }] }),
    ];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks })] }));
    expect(plan.tasks.map(({ task }) => task)).toEqual(["t2"]);
    expect(whyNot(plan, "t1")).toBe(
      "Crew Birch is named for it but does not do Siding. Name another crew, or give Birch that trade.",
    );
    expect(whyNot(plan, "t3")).toBe('It comes after "Side the front", which cannot be planned.');
  });

  it("says that a named crew is too small", () => {
    const crews = [aCrew(), aCrew({ id: "birch", name: "Birch", size: 4 })];
    const plan = planned(
      aCompany({ crews, jobs: [aJob({ tasks: [aTask({ crew: "alder", minCrew: 4 })] })] }),
    );
    expect(whyNot(plan, "t1")).toBe("Crew Alder is named for it but has 3 people; the task needs 4.");
  });

  it("says that the access hours never leave enough time", () => {
    // Half an hour, and setup and cleanup alone take fifty minutes.
    const plan = planned(aCompany({ jobs: [aJob({ access: ["12:30", "13:00"], tasks: [aTask()] })] }));
    expect(whyNot(plan, "t1")).toBe(
      "The house's access hours never leave a crew enough time. Widen the access hours.",
    );
  });

  it("says that no shift is long enough", () => {
    const crews = [aCrew({ week: { mon: ["09:00", "09:40"] } })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks: [aTask()] })] }));
    expect(whyNot(plan, "t1")).toMatch(/^No shift of a crew that may work it is long enough/);
  });

  it("says that no day has light within the shifts of a crew that works at night", () => {
    const crews = [aCrew({ week: { mon: ["00:00", "03:00"] } })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks: [aTask()] })] }));
    expect(whyNot(plan, "t1")).toBe(
      "No day has enough light within the crews' shifts and the house's access hours.",
    );
  });

  it("says that a hold of three years never lets it be worked", () => {
    const holds = [
      {
        id: "h1",
        from: "2027-01-01",
        to: "2032-01-01",
        trades: "all" as const,
        jobs: "all" as const,
        why: "permit",
      },
    ];
    const plan = planned(aCompany({ holds, jobs: [aJob({ tasks: [aTask()] })] }));
    expect(whyNot(plan, "t1")).toBe("A hold never lets it be worked. Lift or shorten the hold.");
  });

  it("has an empty plan for a company without tasks", () => {
    expect(planned(aCompany())).toMatchObject({ blocks: [], tasks: [], impossible: [], cost: { total: 0 } });
  });
});

describe("rule 13, prompt", () => {
  it("starts a crew at the minute at which what it waits for is done elsewhere", () => {
    const crews = [
      aCrew({ trades: { siding: 1 } }),
      aCrew({ id: "birch", name: "Birch", trades: { trim: 1 } }),
    ];
    const tasks = [aTask(), aTask({ id: "t2", trade: "trim", after: [{ task: "t1" }] })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks })] }));
    expect(startOf(plan, "t2")).toBe("Tue 16 Mar 09:20");
    expect(becauseOf(plan, "t2")).toMatchObject({ kind: "after-task", by: { job: "spruce-14", task: "t1" } });
  });

  it("starts each of three houses as soon as its crew has left the one before", () => {
    const jobs = ["a", "b", "c"].map((id, index) =>
      aJob({
        id,
        name: `House ${id}`,
        tasks: [aTask({ id: `t-${id}`, laborHours: 3, notBefore: `2027-03-16T07:0${index}` })],
      }),
    );
    const plan = planned(aCompany({ jobs }));
    // An hour of work, half an hour of cleanup, five minutes on the road, twenty of setup.
    expect(["t-a", "t-b", "t-c"].map((task) => startOf(plan, task))).toEqual([
      "Tue 16 Mar 07:20",
      "Tue 16 Mar 09:15",
      "Tue 16 Mar 11:10",
    ]);
  });
});
