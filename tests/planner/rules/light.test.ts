/**
 * Rule 3 with the sun. On 8 December 2026 it rises at 14 Spruce Lane at 07:01 and sets at 16:04 (compare the check
 * table of tests/published); on 16 March 2027 it sets at 18:48.
 */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask } from "../../support/company-builder.js";
import { becauseOf, blocksOf, endOf, planned, startOf, workOf } from "../planned.js";

const DECEMBER = "2026-12-08T00:00";
const longDays = aCrew({ week: { tue: ["06:00", "18:00"], wed: ["06:00", "18:00"] } });
const indoors = { trade: "shop" };

describe("outdoor work", () => {
  it("sets up at first light, not before", () => {
    const plan = planned(aCompany({ crews: [longDays], jobs: [aJob({ tasks: [aTask()] })] }), DECEMBER);
    expect(blocksOf(plan, "setup")).toEqual(["alder Tue 8 Dec 07:02-07:22 spruce-14"]);
    expect(becauseOf(plan, "t1").kind).toBe("no-light");
  });

  it("stops so that cleanup ends fifteen minutes before sunset", () => {
    const tasks = [aTask({ laborHours: 24 })];
    const plan = planned(aCompany({ crews: [longDays], jobs: [aJob({ tasks })] }), DECEMBER);
    expect(workOf(plan, "t1").slice(0, 2)).toEqual([
      "alder Tue 8 Dec 07:22-11:00",
      "alder Tue 8 Dec 11:30-15:19",
    ]);
    expect(blocksOf(plan, "cleanup")[0]).toBe("alder Tue 8 Dec 15:19-15:49 spruce-14");
  });

  it("uses civil twilight and no margin where the policy says so", () => {
    const policy = { firstLight: "civil-dawn", lastLight: "civil-dusk", lightMarginMinutes: 0 } as const;
    const tasks = [aTask({ laborHours: 30 })];
    const plan = planned(aCompany({ policy, crews: [longDays], jobs: [aJob({ tasks })] }), DECEMBER);
    expect(blocksOf(plan, "setup")[0]).toBe("alder Tue 8 Dec 06:30-06:50 spruce-14");
    expect(blocksOf(plan, "cleanup")[0]).toBe("alder Tue 8 Dec 16:06-16:36 spruce-14");
  });
});

describe("indoor work", () => {
  it("does not wait for the light, and goes on after dark", () => {
    const tasks = [aTask({ ...indoors, laborHours: 34.5 })];
    const plan = planned(aCompany({ crews: [longDays], jobs: [aJob({ tasks })] }), DECEMBER);
    expect([startOf(plan, "t1"), endOf(plan, "t1")]).toEqual(["Tue 8 Dec 06:00", "Tue 8 Dec 18:00"]);
  });

  it("has its cleanup in the light when outdoor work was done in the same visit", () => {
    const tasks = [
      aTask({ laborHours: 21 }),
      aTask({ id: "t2", ...indoors, laborHours: 12, after: [{ task: "t1" }] }),
    ];
    const plan = planned(aCompany({ crews: [longDays], jobs: [aJob({ tasks })] }), DECEMBER);
    // Siding to 14:52; the shop work that follows must leave the light to clean up in, and goes on next day.
    expect(workOf(plan, "t2")).toEqual(["alder Tue 8 Dec 14:52-15:19", "alder Wed 9 Dec 06:00-09:33"]);
  });
});

describe("a stretched day", () => {
  it("runs to last light at the house, less the margin", () => {
    const crews = [aCrew({ stretch: ["2027-03-16"] })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks: [aTask({ laborHours: 36 })] })] }));
    expect(workOf(plan, "t1").slice(0, 2)).toEqual([
      "alder Tue 16 Mar 07:20-12:00",
      "alder Tue 16 Mar 12:30-18:03",
    ]);
    expect(blocksOf(plan, "cleanup")[0]).toBe("alder Tue 16 Mar 18:03-18:33 spruce-14");
    expect(plan.days[0]).toMatchObject({ stretch: true, lightInHandMinutes: -15 });
  });

  it("is no shorter in winter than the shift it stretches", () => {
    const crews = [aCrew({ stretch: ["2026-12-08"], week: { tue: ["07:00", "17:00"] } })];
    const tasks = [aTask({ ...indoors, laborHours: 28.5 })];
    const plan = planned(aCompany({ crews, jobs: [aJob({ tasks })] }), DECEMBER);
    expect(endOf(plan, "t1")).toBe("Tue 8 Dec 17:00");
  });
});

describe("the polar night", () => {
  const site = { lat: 70, lon: 20, timeZone: "Europe/Oslo" };
  const company = (laborHours: number) =>
    aCompany({
      company: { name: "Tern Rock Exteriors", timeZone: "Europe/Oslo" },
      jobs: [aJob({ site, tasks: [aTask({ laborHours })] })],
    });

  it("has no light to work by: the task waits for the sun", () => {
    const plan = planned(company(3), "2026-12-08T00:00");
    expect(startOf(plan, "t1").slice(4)).toMatch(/^\d+ Jan 1\d:\d\d$/);
    expect(becauseOf(plan, "t1").kind).toBe("no-light");
  });

  it("turns into a day without end in June: only the shift ends it", () => {
    const plan = planned(company(24), "2027-06-15T00:00");
    expect(blocksOf(plan, "cleanup")[0]).toBe("alder Tue 15 Jun 15:00-15:30 spruce-14");
    expect(plan.days[0]).toMatchObject({ light: "all-day", firstLight: null, lastLight: null });
  });
});
