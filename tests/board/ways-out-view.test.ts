/** Ways out in words: what is best in a row, what a way uses, what a wish costs. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { sayWish, wayName } from "../../src/board/way-words.js";
import { buildWaysTable, listUses, listWishCosts, type ListedWay } from "../../src/board/ways-out-view.js";
import type { WayFigures } from "../../src/planner/ways-out/way-out.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../support/company-builder.js";

const company = parsed(
  aCompany({
    crews: [aCrew(), aCrew({ id: "cedar", name: "Cedar" })],
    jobs: [
      aJob({
        id: "harbor-12",
        name: "12 Harbor Road",
        promised: "2026-12-11",
        tasks: [aTask({ id: "t1", title: "Side the front" })],
      }),
    ],
    published: [],
  }),
);
const FIGURES: WayFigures = {
  promisesBroken: 0,
  promisesSaved: 0,
  lateDays: 0,
  tasksMoved: 0,
  idleCrewHours: 0,
  overtimeCrewHours: 0,
  moves: 0,
  openNights: 0,
  calls: 0,
  leftOut: 0,
  cost: 0,
};
const aWay = (figures: Partial<WayFigures>, more: Partial<ListedWay> = {}): ListedWay => ({
  key: "hold",
  kinds: ["hold"],
  permissionsUsed: [],
  crewHoursGained: 0,
  crewHoursUsed: 0,
  difference: { moved: [], days: [], promises: [], calls: [] },
  figures: { ...FIGURES, ...figures },
  ...more,
});
const promised = civilDate("2026-12-11");
const tuesday = civilDate("2026-12-08");

describe("the table of ways out", () => {
  const late = {
    moved: [],
    days: [],
    calls: [],
    promises: [{ job: "harbor-12", promised, lateBefore: 0, lateAfter: 3, kind: "broken" as const }],
  };
  const ways = [
    aWay({ promisesBroken: 1, cost: 1234.4, calls: 2 }, { difference: late }),
    aWay({ cost: 900.6, calls: 2 }, { key: "lend", kinds: ["lend"] }),
  ];
  const rowOf = (label: string, all = ways, of = company) =>
    present(
      buildWaysTable(of, all).rows.find((row) => row.label === label),
      `the row ${label}`,
    ).cells;

  it("marks what is best in a row, and nothing where all are alike", () => {
    expect(rowOf("Cost").map(({ text, isBest }) => [text, isBest])).toEqual([
      ["1,234", false],
      ["901", true],
    ]);
    expect(rowOf("Calls to make").map(({ isBest }) => isBest)).toEqual([false, false]);
  });

  it("names the houses whose promised date is broken, with the days", () => {
    const [first, second] = rowOf("Promised dates broken");
    expect(first).toMatchObject({ text: "1", lines: ["12 Harbor Road, 3 days late"], needsAttention: true });
    expect(second).toMatchObject({ text: "0", lines: [], needsAttention: false, isBest: true });
  });

  it("counts more saved dates as better", () => {
    const saving = [aWay({}), aWay({ promisesSaved: 2 })];
    expect(rowOf("Promised dates saved", saving).map(({ isBest }) => isBest)).toEqual([false, true]);
  });

  it("has no calls where nobody was told a date", () => {
    const [first] = rowOf("Calls to make", ways, { ...company, published: null });
    expect(first).toMatchObject({ text: "0", lines: ["nothing is published yet"] });
  });

  it("has a row of tasks that cannot be planned only where there are some", () => {
    const labels = (all: readonly ListedWay[]) => buildWaysTable(company, all).rows.map(({ label }) => label);
    expect(labels(ways)).not.toContain("Tasks that cannot be planned");
    expect(labels([aWay({ leftOut: 1 })])).toContain("Tasks that cannot be planned");
  });
});

describe("what a way uses", () => {
  it("is told in days, crew-hours and names", () => {
    const date = tuesday;
    expect(
      listUses(company, [
        { kind: "stretch", crew: "alder", date, minutes: 60, usedMinutes: 45 },
        { kind: "stretch", crew: "cedar", date, minutes: 66, usedMinutes: 0 },
        {
          kind: "saturday",
          crew: "alder",
          date: civilDate("2026-12-12"),
          hours: ["07:00", "15:30"],
          minutes: 480,
          usedMinutes: 300,
        },
        { kind: "lend", job: "harbor-12", task: "t1", from: "alder", to: "cedar" },
      ]),
    ).toEqual([
      "Stretch Tue 8 Dec: 2.1 crew-hours of light, 0.8 worked (Alder, Cedar)",
      "Extra day Sat 12 Dec: 8 crew-hours, 5 worked (Alder)",
      "Cedar for Alder: Side the front at 12 Harbor Road",
    ]);
  });
});

it("a way is called by what it makes use of", () => {
  expect(wayName(aWay({}))).toBe("Hold the order");
  expect(wayName(aWay({}, { kinds: ["resequence", "lend", "saturday"] }))).toBe(
    "Resequence, lend and Saturday",
  );
  expect(wayName(aWay({}, { key: "by-hand", kinds: ["lend"] }))).toBe("By hand");
});

it("a wish is told in names and dates", () => {
  const task = { job: "harbor-12", task: "t1" };
  expect(sayWish(company, { kind: "pin-crew", ...task, crew: "cedar" })).toBe(
    "Side the front at 12 Harbor Road by Cedar",
  );
  expect(sayWish(company, { kind: "pin-day", ...task, date: tuesday })).toBe(
    "Side the front at 12 Harbor Road on Tue 8 Dec",
  );
  expect(sayWish(company, { kind: "swap-crews", crews: ["alder", "cedar"], date: tuesday })).toBe(
    "Alder and Cedar swap Tue 8 Dec",
  );
  expect(sayWish(company, { kind: "keep-crew", crew: "alder" })).toBe("Alder stays where it is");
});

it("what a wish costs is told figure by figure, without those that stay", () => {
  expect(listWishCosts({ ...FIGURES, cost: 420.2, tasksMoved: -2, idleCrewHours: 0.04, calls: 1 })).toEqual([
    "cost: 420 more",
    "tasks moved: 2 fewer",
    "calls to make: 1 more",
  ]);
});
