/** Rule 3 without the sun: shifts, breaks, days off, extra days, access hours, houses in another zone, clock changes. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask } from "../../support/company-builder.js";
import { blocksOf, planned, workOf } from "../planned.js";

type CrewChange = NonNullable<Parameters<typeof aCrew>[0]>;
const withCrew = (crew: CrewChange, laborHours = 6, trade = "siding"): CompanyInput =>
  aCompany({ crews: [aCrew(crew)], jobs: [aJob({ tasks: [aTask({ laborHours, trade })] })] });

describe("the meal break", () => {
  it("starts five hours into the shift, and nothing lies in it", () => {
    const plan = planned(withCrew({}, 18));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-12:00", "alder Tue 16 Mar 12:30-13:50"]);
    expect(blocksOf(plan, "break")).toEqual(["alder Tue 16 Mar 12:00-12:30 spruce-14"]);
  });

  it("is none in a shift of five hours", () => {
    const plan = planned(withCrew({ week: { tue: ["07:00", "12:00"], wed: ["07:00", "12:00"] } }, 15));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-11:30", "alder Wed 17 Mar 07:20-08:10"]);
    expect(blocksOf(plan, "break")).toEqual([]);
  });

  it("is not waited for after cleanup that would reach into it: cleanup comes before or after, whole", () => {
    // Work could end at 11:50, and 30 minutes of cleanup at 12:20.
    const plan = planned(withCrew({}, 13.5));
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 07:20-11:50"]);
    expect(blocksOf(plan, "cleanup")).toEqual(["alder Tue 16 Mar 12:30-13:00 spruce-14"]);
  });
});

describe("days off and extra days", () => {
  it("let a day off beat the week", () => {
    const plan = planned(withCrew({ off: [{ from: "2027-03-15", to: "2027-03-16" }] }));
    expect(workOf(plan, "t1")).toEqual(["alder Wed 17 Mar 07:20-09:20"]);
  });

  it("let a day off beat an extra day", () => {
    const off = [{ from: "2027-03-16", to: "2027-03-16" }];
    const extra = [{ date: "2027-03-16", hours: ["07:00", "13:00"] as [string, string] }];
    expect(workOf(planned(withCrew({ off, extra })), "t1")).toEqual(["alder Wed 17 Mar 07:20-09:20"]);
  });

  it("let a crew work an extra Saturday besides its week", () => {
    const extra = [{ date: "2027-03-20", hours: ["07:00", "13:00"] as [string, string] }];
    const plan = planned(withCrew({ extra }), "2027-03-19T16:00");
    expect(workOf(plan, "t1")).toEqual(["alder Sat 20 Mar 07:20-09:20"]);
  });

  it("let an extra day replace that date's hours", () => {
    const extra = [{ date: "2027-03-16", hours: ["10:00", "14:00"] as [string, string] }];
    const plan = planned(withCrew({ extra }, 18));
    // Cleanup from 13:30; the other 170 minutes on Wednesday.
    expect(workOf(plan, "t1")).toEqual(["alder Tue 16 Mar 10:20-13:30", "alder Wed 17 Mar 07:20-10:10"]);
  });

  it("let nothing happen before the plan's start in the middle of a day", () => {
    const plan = planned(withCrew({}), "2027-03-16T10:00");
    expect(blocksOf(plan, "setup")).toEqual(["alder Tue 16 Mar 10:00-10:20 spruce-14"]);
  });
});

describe("access hours", () => {
  it("keep setup, work and cleanup inside", () => {
    const jobs = [aJob({ access: ["09:00", "14:00"], tasks: [aTask({ laborHours: 15 })] })];
    const plan = planned(aCompany({ jobs }));
    expect(blocksOf(plan, "setup", "work", "cleanup")).toEqual([
      "alder Tue 16 Mar 09:00-09:20 spruce-14",
      "alder Tue 16 Mar 09:20-12:00 spruce-14",
      "alder Tue 16 Mar 12:30-13:30 spruce-14",
      "alder Tue 16 Mar 13:30-14:00 spruce-14",
      "alder Wed 17 Mar 09:00-09:20 spruce-14",
      "alder Wed 17 Mar 09:20-10:40 spruce-14",
      "alder Wed 17 Mar 10:40-11:10 spruce-14",
    ]);
  });
});

describe("a house in another zone", () => {
  const inHalifax = { lat: 44.65, lon: -63.57, timeZone: "America/Halifax" };
  it("sees the crew's shift an hour later on its own clock", () => {
    const plan = planned(aCompany({ jobs: [aJob({ site: inHalifax, tasks: [aTask()] })] }));
    expect(plan.tasks[0]?.start).toBe("2027-03-16T08:20:00-03:00");
  });

  it("lets the crew in at nine by its own clock, eight by the crew's", () => {
    const jobs = [aJob({ site: inHalifax, access: ["09:00", "18:00"], tasks: [aTask()] })];
    const plan = planned(aCompany({ jobs }));
    expect(plan.tasks[0]?.start).toBe("2027-03-16T09:20:00-03:00");
  });

  it("starts a date without offset at its own midnight", () => {
    // 17 March begins in Halifax at 23:00 of the 16th in New York, where the crew works until midnight.
    const crews = [aCrew({ week: { tue: ["15:00", "24:00"] } })];
    const tasks = [aTask({ trade: "shop", notBefore: "2027-03-17" })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ site: inHalifax, tasks })] }));
    expect(plan.tasks[0]?.start).toBe("2027-03-17T00:00:00-03:00");
  });
});

describe("a shift in the night on which the clocks change", () => {
  it("has five hours between midnight and six in spring", () => {
    const extra = [{ date: "2027-03-14", hours: ["00:00", "06:00"] as [string, string] }];
    const plan = planned(withCrew({ extra }, 18, "shop"), "2027-03-13T12:00");
    // 300 minutes on Sunday, none of them a break; 60 on Monday.
    expect(workOf(plan, "t1")).toEqual(["alder Sun 14 Mar 00:00-06:00", "alder Mon 15 Mar 07:00-08:00"]);
  });

  it("has seven hours between midnight and six in autumn, and its break after five", () => {
    const extra = [{ date: "2027-11-07", hours: ["00:00", "06:00"] as [string, string] }];
    const plan = planned(withCrew({ extra }, 19.5, "shop"), "2027-11-06T12:00");
    expect(plan.blocks.map((block) => `${block.kind} ${block.start} ${block.end}`)).toEqual([
      "work 2027-11-07T00:00:00-04:00 2027-11-07T04:00:00-05:00",
      "break 2027-11-07T04:00:00-05:00 2027-11-07T04:30:00-05:00",
      "work 2027-11-07T04:30:00-05:00 2027-11-07T06:00:00-05:00",
    ]);
  });
});
