/** Rule 6: work that has begun goes on in its crew's next windows; a hold makes room for rain work. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aJob, aTask } from "../../support/company-builder.js";
import { blocksOf, planned, startOf, workOf } from "../planned.js";

type HoldInput = NonNullable<CompanyInput["holds"]>[number];
const rain = (from: string, to: string, change: Partial<HoldInput> = {}): HoldInput => ({
  id: "h1",
  from,
  to,
  trades: "outdoor",
  jobs: ["spruce-14"],
  why: "rain",
  ...change,
});
const WEDNESDAY = rain("2027-03-17T00:00", "2027-03-18T00:00");
const siding = aTask({ laborHours: 36 });
const elm = (task: Parameters<typeof aTask>[0]) =>
  aJob({
    id: "elm-3",
    name: "3 Elm Street",
    tasks: [aTask({ id: "t2", trade: "shop", notBefore: "2027-03-17", ...task })],
  });

describe("rule 6, continuity", () => {
  it("goes on next morning with what does not fit into a day", () => {
    const plan = planned(aCompany({ jobs: [aJob({ tasks: [aTask({ laborHours: 24 })] })] }));
    expect(workOf(plan, "t1")).toEqual([
      "alder Tue 16 Mar 07:20-12:00",
      "alder Tue 16 Mar 12:30-15:00",
      "alder Wed 17 Mar 07:20-08:10",
    ]);
  });

  it("lets nothing else come between, though it would be ready", () => {
    const jobs = [aJob({ tasks: [siding] }), elm({ laborHours: 3 })];
    const plan = planned(aCompany({ jobs }));
    expect(startOf(plan, "t2")).toBe("Wed 17 Mar 13:15");
    expect(workOf(plan, "t1").at(-1)).toBe("alder Wed 17 Mar 12:30-12:40");
  });
});

describe("a hold", () => {
  it("on Wednesday interrupts siding, and the crew does shop work meanwhile (rain work)", () => {
    const jobs = [aJob({ tasks: [siding] }), elm({ laborHours: 12 })];
    const plan = planned(aCompany({ jobs, holds: [WEDNESDAY] }));
    expect(workOf(plan, "t1")).toEqual([
      "alder Tue 16 Mar 07:20-12:00",
      "alder Tue 16 Mar 12:30-15:00",
      "alder Thu 18 Mar 07:20-12:00",
      "alder Thu 18 Mar 12:30-12:40",
    ]);
    expect(workOf(plan, "t2")).toEqual(["alder Wed 17 Mar 07:00-11:00"]);
    // Rain work is a stay away from a task that is begun and not finished.
    expect(plan.cost.moves).toBe(1);
  });

  it("gives way to rain work that stops when it ends, and goes on when the held task is done", () => {
    const jobs = [aJob({ tasks: [siding] }), elm({ laborHours: 30 })];
    const plan = planned(aCompany({ jobs, holds: [WEDNESDAY] }));
    // 480 of 600 minutes on Wednesday; siding to Thursday 12:40, cleanup and the way; then the other 120.
    expect(workOf(plan, "t2")).toEqual([
      "alder Wed 17 Mar 07:00-12:00",
      "alder Wed 17 Mar 12:30-15:30",
      "alder Thu 18 Mar 13:15-15:15",
    ]);
  });

  it("that ends while the day's window is open is waited out on site", () => {
    const holds = [rain("2027-03-16T09:00", "2027-03-16T10:30")];
    const plan = planned(aCompany({ jobs: [aJob({ tasks: [aTask({ laborHours: 12 })] })], holds }));
    expect(workOf(plan, "t1")).toEqual([
      "alder Tue 16 Mar 07:20-09:00",
      "alder Tue 16 Mar 10:30-12:00",
      "alder Tue 16 Mar 12:30-13:20",
    ]);
    expect(blocksOf(plan, "setup", "cleanup")).toHaveLength(2);
  });

  it("stops only the trades and the houses that it names", () => {
    const jobs = [
      aJob({ tasks: [aTask({ trade: "trim" })] }),
      aJob({ id: "elm-3", tasks: [aTask({ id: "t2" })] }),
    ];
    const holds = [rain("2027-03-16T00:00", "2027-03-18T00:00", { trades: ["siding"], jobs: ["elm-3"] })];
    const plan = planned(aCompany({ jobs, holds }));
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 07:20");
    expect(startOf(plan, "t2")).toBe("Thu 18 Mar 07:20");
  });

  it("without an offset runs by the clock at the house", () => {
    const inHalifax = { lat: 44.65, lon: -63.57, timeZone: "America/Halifax" };
    const holds = [rain("2027-03-16T00:00", "2027-03-16T12:00")];
    const plan = planned(aCompany({ jobs: [aJob({ site: inHalifax, tasks: [aTask()] })], holds }));
    // Setup waits for the end of the hold too.
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 12:20");
  });

  it("on a chain does not give its crew the afternoon after it: rain work waits until the chain is closed", () => {
    const area = "front";
    const chain = [
      aTask({ id: "o", trade: "tear-off", laborHours: 24, units: 2, area, opens: true }),
      aTask({
        id: "c",
        trade: "windows",
        laborHours: 12,
        units: 2,
        area,
        closes: true,
        after: [{ task: "o" }],
      }),
    ];
    const jobs = [aJob({ tasks: chain }), elm({ trade: "siding", laborHours: 24 })];
    const holds = [rain("2027-03-17T05:00", "2027-03-17T12:25")];
    const plan = planned(aCompany({ jobs, holds }));
    // A unit takes six hours: one on Tuesday, none on Wednesday afternoon, the other on Thursday.
    expect(workOf(plan, "o")).toEqual(["alder Tue 16 Mar 07:20-11:20", "alder Thu 18 Mar 07:20-11:20"]);
    expect(workOf(plan, "t2")).toEqual([
      "alder Wed 17 Mar 07:20-11:30",
      "alder Thu 18 Mar 14:45-15:00",
      "alder Fri 19 Mar 07:20-10:55",
    ]);
  });
});
