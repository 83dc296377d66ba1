/** Ways out by longer days, what they give and cost; and which ways are worth showing side by side. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { isNoBetter, withoutDominated, type WayFigures } from "../../src/planner/ways-out/way-out.js";
import { aCrew, aJob, aTask } from "../support/company-builder.js";
import {
  birch,
  days,
  oneLong,
  sideElm,
  sideSpruce,
  twoHouses,
  wayOf,
  waysOut,
  work,
} from "./ways-out-houses.js";

describe("stretch", () => {
  it("names the days that run to last light, what light they give and what of it is worked", () => {
    const way = wayOf(
      waysOut(oneLong(70), oneLong(100), { stretch: days("2027-03-16", "2027-03-17") }),
      "stretch",
    );
    expect(way.permissionsUsed).toEqual([
      { kind: "stretch", crew: "alder", date: "2027-03-16", minutes: 198, usedMinutes: 183 },
      { kind: "stretch", crew: "alder", date: "2027-03-17", minutes: 199, usedMinutes: 184 },
    ]);
    expect(way.crewHoursGained).toBeCloseTo(397 / 60, 6);
    expect(way.crewHoursUsed).toBeCloseTo(367 / 60, 6);
    expect(way.edits).toEqual([
      { kind: "stretch-day", crew: "alder", date: "2027-03-16" },
      { kind: "stretch-day", crew: "alder", date: "2027-03-17" },
    ]);
    expect(way.figures).toMatchObject({ promisesBroken: 0, lateDays: 0 });
  });

  it("leaves a day alone that nobody would work longer on", () => {
    const ways = waysOut(oneLong(70), oneLong(90), { stretch: days("2027-03-16", "2027-04-20") });
    const dates = ways.flatMap(({ permissionsUsed }) =>
      permissionsUsed.flatMap((use) => (use.kind === "stretch" ? [use.date] : [])),
    );
    expect(new Set(dates)).toEqual(new Set(["2027-03-16"]));
  });

  it("is not asked of a crew that the slip does not touch", () => {
    const crews = [aCrew(), birch];
    const spruce = (hours: number) => ({
      tasks: [aTask({ ...sideSpruce, crew: "alder", laborHours: hours })],
    });
    const elm = { tasks: [aTask({ ...sideElm, crew: "birch" })] };
    const ways = waysOut(
      twoHouses({ crews, elm, spruce: spruce(20) }),
      twoHouses({ crews, elm, spruce: spruce(30) }),
      {
        stretch: days("2027-03-16"),
      },
    );
    expect(wayOf(ways, "stretch").edits).toEqual([
      { kind: "stretch-day", crew: "alder", date: "2027-03-16" },
    ]);
  });
});

describe("Saturday", () => {
  it("adds a day by the crew's hours of the weekday before, where that keeps a promise", () => {
    const way = wayOf(
      waysOut(oneLong(70), oneLong(90), { saturday: days("2027-03-20", "2027-03-27") }),
      "saturday",
    );
    expect(way.permissionsUsed).toEqual([
      {
        kind: "saturday",
        crew: "alder",
        date: "2027-03-20",
        hours: ["07:00", "15:30"],
        minutes: 480,
        usedMinutes: 130,
      },
    ]);
    expect(work(way, "long").at(-1)).toBe("alder Sat 20 Mar 07:20-08:40");
    expect(way.figures).toMatchObject({ promisesBroken: 0, lateDays: 0 });
  });

  it("counts as overtime beyond the weekly hours, and is shown though it costs more than the late days it saves", () => {
    const saturday = days("2027-03-20");
    const [held, way] = waysOut(oneLong(70), oneLong(90, { weeklyHours: 32 }), { saturday });
    expect(held?.figures).toMatchObject({ lateDays: 2, overtimeCrewHours: 0 });
    expect(way?.figures).toMatchObject({ lateDays: 0, overtimeCrewHours: 8 });
    expect((way?.figures.cost ?? 0) > (held?.figures.cost ?? 0)).toBe(true);
  });

  it("is not worked for more money where no house is late without it", () => {
    const unhurried = (hours: number): CompanyInput => ({
      ...oneLong(hours, { weeklyHours: 32 }),
      jobs: [aJob({ promised: null, tasks: [aTask({ id: "long", laborHours: hours })] })],
    });
    const ways = waysOut(unhurried(70), unhurried(90), { saturday: days("2027-03-20") });
    expect(ways.map(({ key }) => key)).toEqual(["hold"]);
  });

  it("is given to subcontractors only where they are named", () => {
    const asSub = (hours: number) => ({ ...oneLong(hours), crews: [aCrew({ kind: "sub" })] });
    const saturday = days("2027-03-20");
    expect(waysOut(asSub(70), asSub(90), { saturday }).map(({ key }) => key)).toEqual(["hold"]);
    const ways = waysOut(asSub(70), asSub(90), { saturday, crews: ["alder"] });
    expect(ways.map(({ key }) => key)).toEqual(["hold", "saturday"]);
  });

  it("is not given to a crew that is off that day or works it anyway", () => {
    const off = (hours: number) => ({
      ...oneLong(hours),
      crews: [aCrew({ off: [{ from: "2027-03-20", to: "2027-03-20" }] })],
    });
    const ways = waysOut(off(70), off(90), { saturday: days("2027-03-20") });
    expect(ways.map(({ key }) => key)).toEqual(["hold"]);
  });
});

describe("ways side by side", () => {
  const figures: WayFigures = {
    promisesBroken: 1,
    promisesSaved: 1,
    lateDays: 3,
    tasksMoved: 4,
    idleCrewHours: 5,
    overtimeCrewHours: 0,
    moves: 0,
    openNights: 0,
    calls: 2,
    leftOut: 0,
    cost: 100,
  };

  it("are compared figure by figure: more saved is better, less of everything else", () => {
    expect(isNoBetter(figures, figures)).toBe(true);
    expect(isNoBetter({ ...figures, cost: 101 }, figures)).toBe(true);
    expect(isNoBetter({ ...figures, cost: 99 }, figures)).toBe(false);
    expect(isNoBetter({ ...figures, promisesSaved: 2, cost: 1000 }, figures)).toBe(false);
    expect(isNoBetter({ ...figures, promisesSaved: 0 }, figures)).toBe(true);
  });

  it("leave out those that are nowhere better than another, and of equal ones the later; never the first", () => {
    const way = (key: string, edit: Partial<WayFigures>) => ({ key, figures: { ...figures, ...edit } });
    const shown = withoutDominated([
      way("hold", { cost: 500 }),
      way("cheap", { cost: 50, calls: 9 }),
      way("dear", { cost: 60, calls: 9 }),
      way("quiet", { calls: 0 }),
      way("as quiet", { calls: 0 }),
    ]);
    expect(shown.map(({ key }) => key)).toEqual(["hold", "cheap", "quiet"]);
  });

  it("begin with hold the order, then those with fewer permissions", () => {
    const ways = waysOut(oneLong(70), oneLong(90), {
      stretch: days("2027-03-16"),
      saturday: days("2027-03-20"),
      resequence: true,
    });
    const counts = ways.map(({ kinds }) => kinds.length);
    expect(ways[0]?.key).toBe("hold");
    expect(counts.slice(1)).toEqual(counts.slice(1).toSorted((a, b) => a - b));
  });
});
