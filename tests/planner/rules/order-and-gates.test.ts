/** Rules 4 and 5: what comes after what, cures, dates, deliveries, and waits in business days. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../../support/company-builder.js";
import { becauseOf, endOf, planned, startOf, workOf } from "../planned.js";

type JobChange = NonNullable<Parameters<typeof aJob>[0]>;
const ALL_WEEK: [string, string] = ["07:00", "15:30"];
const everyDay = aCrew({
  week: { fri: ALL_WEEK, sat: ALL_WEEK, sun: ALL_WEEK, mon: ALL_WEEK, tue: ALL_WEEK, wed: ALL_WEEK },
});
const house = (job: JobChange, rest: Partial<CompanyInput> = {}) => aCompany({ jobs: [aJob(job)], ...rest });

describe("rule 4, order", () => {
  it("starts a task at the minute at which the one before it ends", () => {
    const plan = planned(house({ tasks: [aTask({ id: "t2", after: [{ task: "t1" }] }), aTask()] }));
    expect(endOf(plan, "t1")).toBe("Tue 16 Mar 09:20");
    expect(startOf(plan, "t2")).toBe("Tue 16 Mar 09:20");
  });

  it("waits for the last of several", () => {
    const crews = [aCrew(), aCrew({ id: "birch", name: "Birch" })];
    const tasks = [
      aTask({ crew: "alder" }),
      aTask({ id: "t2", crew: "birch", laborHours: 9 }),
      aTask({ id: "t3", crew: "alder", after: [{ task: "t1" }, { task: "t2" }] }),
    ];
    expect(startOf(planned(house({ tasks }, { crews })), "t3")).toBe("Tue 16 Mar 10:20");
  });

  it("counts a cure in elapsed hours, through the night", () => {
    const tasks = [aTask(), aTask({ id: "t2", after: [{ task: "t1", lagHours: 24 }] })];
    const plan = planned(house({ tasks }));
    // Done Tuesday 9:20, cured Wednesday 9:20; the crew sets up before.
    expect(startOf(plan, "t2")).toBe("Wed 17 Mar 09:20");
    expect(becauseOf(plan, "t2").kind).toBe("curing");
  });

  it("keeps the cure where a longer setup for what follows pushes back what it follows", () => {
    const crews = [aCrew({ trades: { shop: 1, siding: 1 } })];
    const tasks = [
      aTask({ trade: "shop", laborHours: 9 }),
      aTask({ id: "t2", trade: "siding", after: [{ task: "t1", lagHours: 1 }] }),
    ];
    const plan = planned(house({ tasks }, { crews }));
    // Twenty minutes of setup for siding before both; an hour between the end of one and the start of the other.
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-10:20"]);
    expect(startOf(plan, "t2")).toBe("Tue 16 Mar 11:20");
  });

  it("counts 24 hours over the spring night that lacks one: 9:20 becomes 10:20", () => {
    const tasks = [aTask(), aTask({ id: "t2", after: [{ task: "t1", lagHours: 24 }] })];
    const plan = planned(house({ tasks }, { crews: [everyDay] }), "2027-03-13T00:00");
    expect(endOf(plan, "t1")).toBe("Sat 13 Mar 09:20");
    expect(startOf(plan, "t2")).toBe("Sun 14 Mar 10:20");
  });

  it("counts 24 hours over the autumn night that has one more: 9:00 becomes 8:00", () => {
    const tasks = [
      aTask({ trade: "shop" }),
      aTask({ id: "t2", trade: "shop", after: [{ task: "t1", lagHours: 24 }] }),
    ];
    const plan = planned(house({ tasks }, { crews: [everyDay] }), "2027-11-06T00:00");
    expect(endOf(plan, "t1")).toBe("Sat 6 Nov 09:00");
    expect(startOf(plan, "t2")).toBe("Sun 7 Nov 08:00");
  });

  it("lets the cure of work already done run on into the plan", () => {
    const done = { status: "done", startedAt: "2027-03-15T08:00", finishedAt: "2027-03-15T14:00" } as const;
    const tasks = [
      aTask({ ...done, doneBy: "alder" }),
      aTask({ id: "t2", after: [{ task: "t1", lagHours: 24 }] }),
    ];
    expect(startOf(planned(house({ tasks })), "t2")).toBe("Tue 16 Mar 14:00");
  });

  it("has a task of no hours end when all that it follows has ended, with no crew", () => {
    const tasks = [
      aTask(),
      aTask({ id: "t2", laborHours: 0, after: [{ task: "t1" }] }),
      aTask({ id: "t3", after: [{ task: "t2" }] }),
    ];
    const plan = planned(house({ tasks }));
    expect([startOf(plan, "t2"), endOf(plan, "t2")]).toEqual(["Tue 16 Mar 09:20", "Tue 16 Mar 09:20"]);
    expect(workOf(plan, "t2")).toEqual([]);
    expect(startOf(plan, "t3")).toBe("Tue 16 Mar 09:20");
  });
});

describe("rule 5, gates", () => {
  it("keeps a task until its date has begun", () => {
    expect(startOf(planned(house({ tasks: [aTask({ notBefore: "2027-03-18" })] })), "t1")).toBe(
      "Thu 18 Mar 07:20",
    );
  });

  it("keeps a task until the minute of its date, where it has one", () => {
    const plan = planned(house({ tasks: [aTask({ notBefore: "2027-03-18T13:10" })] }));
    expect(startOf(plan, "t1")).toBe("Thu 18 Mar 13:10");
  });

  it("uses a delivery on the day after the expected one", () => {
    const deliveries = [{ id: "d1", what: "Windows", expected: "2027-03-17" }];
    const plan = planned(house({ deliveries, tasks: [aTask({ needs: ["d1"] })] }));
    expect(startOf(plan, "t1")).toBe("Thu 18 Mar 07:20");
    expect(becauseOf(plan, "t1").kind).toBe("delivery");
  });

  it("uses a delivery that has been received at once, whatever was expected", () => {
    const deliveries = [{ id: "d1", what: "Windows", expected: "2027-03-25", received: true }];
    const plan = planned(house({ deliveries, tasks: [aTask({ needs: ["d1"] })] }));
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 07:20");
  });

  it("waits for the latest of several deliveries, with the buffer of the policy", () => {
    const deliveries = [
      { id: "d1", what: "Windows", expected: "2027-03-16" },
      { id: "d2", what: "Flashing", expected: "2027-03-17" },
    ];
    const policy = { deliveryBufferDays: 2 };
    const plan = planned(house({ deliveries, tasks: [aTask({ needs: ["d1", "d2"] })] }, { policy }));
    expect(startOf(plan, "t1")).toBe("Fri 19 Mar 07:20");
  });
});

describe("a wait", () => {
  const inspected = (businessDays: number) => [
    aTask(),
    aWait({ waitBusinessDays: businessDays, after: [{ task: "t1" }] }),
    aTask({ id: "t2", after: [{ task: "w1" }] }),
  ];

  it("of one business day ends at the midnight that ends the next full one, and needs no crew", () => {
    const plan = planned(house({ tasks: inspected(1) }));
    expect([startOf(plan, "w1"), endOf(plan, "w1")]).toEqual(["Tue 16 Mar 09:20", "Thu 18 Mar 00:00"]);
    expect(plan.tasks.find(({ task }) => task === "w1")?.crew).toBeNull();
    expect(startOf(plan, "t2")).toBe("Thu 18 Mar 07:20");
    expect(becauseOf(plan, "t2").kind).toBe("wait");
  });

  it("skips the weekend", () => {
    const plan = planned(house({ tasks: inspected(2) }, { crews: [everyDay] }), "2027-03-19T00:00");
    expect(endOf(plan, "w1")).toBe("Wed 24 Mar 00:00");
  });

  it("of one business day skips the Fourth of July, which is kept on Monday the fifth in 2027", () => {
    const plan = planned(house({ tasks: inspected(1) }), "2027-07-02T00:00");
    expect(endOf(plan, "t1")).toBe("Fri 2 Jul 09:20");
    expect(startOf(plan, "t2")).toBe("Wed 7 Jul 07:20");
  });

  it("of no days ends at once", () => {
    const plan = planned(house({ tasks: inspected(0) }));
    expect(startOf(plan, "t2")).toBe("Tue 16 Mar 09:20");
  });
});
