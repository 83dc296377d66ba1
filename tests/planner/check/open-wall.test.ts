/** Rules 7 and 8 on a wall of three units: strip and wrap, with no open nights and with one. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { present } from "../../../src/domain/result.js";
import { parseInstant } from "../../../src/domain/time.js";
import { planCompany } from "../../../src/planner/plan.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../../support/company-builder.js";
import { brokenRules, planFrom, swapLines } from "./hand-made-plan.js";

const TUE = "2027-03-16";
const WED = "2027-03-17";

const strip = aTask({
  id: "strip",
  trade: "tear-off",
  title: "Strip the front",
  area: "front",
  laborHours: 9,
  units: 3,
  opens: true,
});
const wrap = aTask({
  id: "wrap",
  trade: "wrb",
  title: "Wrap the front",
  area: "front",
  laborHours: 9,
  after: [{ task: "strip" }],
  closes: true,
});
const wall = (change: Partial<CompanyInput> = {}) =>
  parsed(aCompany({ jobs: [aJob({ tasks: [strip, wrap] })], ...change }));

describe("with no open nights", () => {
  // Each share is an hour: two hours a unit. The meal break does not break the third.
  const STRIP_1 = `alder ${TUE} 07:20 08:20 work spruce-14 strip 1-1`;
  const WRAP_1 = `alder ${TUE} 08:20 09:20 work spruce-14 wrap 1-1`;
  const STRIP_2 = `alder ${TUE} 09:20 10:20 work spruce-14 strip 2-2`;
  const WRAP_2 = `alder ${TUE} 10:20 11:20 work spruce-14 wrap 2-2`;
  const STRIP_3 = `alder ${TUE} 11:20 12:00 work spruce-14 strip 3-3`;
  const STRIP_3B = `alder ${TUE} 12:30 12:50 work spruce-14 strip 3-3`;
  const WRAP_3 = `alder ${TUE} 12:50 13:50 work spruce-14 wrap 3-3`;
  const CLEAN = `alder ${TUE} 13:50 14:20 cleanup spruce-14`;
  const lines = [
    `alder ${TUE} 07:00 07:20 setup spruce-14`,
    STRIP_1,
    WRAP_1,
    STRIP_2,
    WRAP_2,
    STRIP_3,
    `alder ${TUE} 12:00 12:30 break`,
    STRIP_3B,
    WRAP_3,
    CLEAN,
  ];
  const cost = { idleCrewHours: 70 / 60 };
  const rules = (changed: readonly string[], idleMinutes = 70, more = {}) =>
    brokenRules(
      wall(),
      planFrom(wall(), { lines: changed, cost: { idleCrewHours: idleMinutes / 60, ...more } }),
    );

  it("a wall worked unit by unit within the day is good", () => {
    expect(checkPlan(wall(), planFrom(wall(), { lines, cost }))).toEqual([]);
  });
  it("a unit left open overnight breaks rule 8", () => {
    const overnight = swapLines(lines, {
      [WRAP_3]: [],
      [CLEAN]: [
        `alder ${TUE} 12:50 13:20 cleanup spruce-14`,
        `alder ${WED} 07:00 07:20 setup spruce-14`,
        `alder ${WED} 07:20 08:20 work spruce-14 wrap 3-3`,
        `alder ${WED} 08:20 08:50 cleanup spruce-14`,
      ],
    });
    expect(rules(overnight, 130 + 370, { openNights: 1 })).toEqual([8]);
  });
  it("an opener's unit that spans a night breaks rule 7", () => {
    const overnight = swapLines(lines, {
      [STRIP_3B]: [],
      [WRAP_3]: [],
      "alder 2027-03-16 12:00 12:30 break": `alder ${TUE} 12:00 12:30 break`,
      [CLEAN]: [
        `alder ${TUE} 12:30 13:00 cleanup spruce-14`,
        `alder ${WED} 07:00 07:20 setup spruce-14`,
        `alder ${WED} 07:20 07:40 work spruce-14 strip 3-3`,
        `alder ${WED} 07:40 08:40 work spruce-14 wrap 3-3`,
        `alder ${WED} 08:40 09:10 cleanup spruce-14`,
      ],
    });
    expect(rules(overnight, 150 + 350, { openNights: 1 })).toEqual([7]);
  });
  it("blocks that name other units than they have minutes for break rule 7", () => {
    expect(
      rules(swapLines(lines, { [STRIP_2]: `alder ${TUE} 09:20 10:20 work spruce-14 strip 1-1` })),
    ).toContain(7);
  });
  it("a closer's unit that gets less than its share breaks rule 8", () => {
    const uneven = swapLines(lines, {
      [WRAP_1]: `alder ${TUE} 08:20 09:10 work spruce-14 wrap 1-1`,
      [STRIP_2]: `alder ${TUE} 09:10 10:10 work spruce-14 strip 2-2`,
      [WRAP_2]: `alder ${TUE} 10:10 11:20 work spruce-14 wrap 2-2`,
    });
    expect(rules(uneven)).toEqual([8]);
  });
  it("closing a unit before it is opened breaks rule 4, said with the unit", () => {
    const backwards = swapLines(lines, {
      [STRIP_1]: `alder ${TUE} 07:20 08:20 work spruce-14 wrap 1-1`,
      [WRAP_1]: `alder ${TUE} 08:20 09:20 work spruce-14 strip 1-1`,
    });
    const broken = checkPlan(wall(), planFrom(wall(), { lines: backwards, cost }));
    expect(broken.map(formatBroken)).toContain(
      'Rule 4 (order): "Wrap the front" (wrap) at 14 Spruce Lane, unit 1, starts Tue 16 Mar 07:20, but "Strip the front" (strip) at 14 Spruce Lane, unit 1, ends Tue 16 Mar 09:20.',
    );
  });
  it("opening the next unit before the last is closed breaks rule 8", () => {
    const mixed = swapLines(lines, {
      [WRAP_1]: `alder ${TUE} 08:20 09:20 work spruce-14 strip 2-2`,
      [STRIP_2]: `alder ${TUE} 09:20 10:20 work spruce-14 wrap 1-1`,
    });
    expect(rules(mixed)).toEqual([8]);
  });
  it("a hold on the closing trade while a unit is open breaks rule 8, even if the closer is not at work then", () => {
    const holds = [
      {
        id: "h1",
        from: `${TUE}T07:00`,
        to: `${TUE}T08:20`,
        trades: ["wrb"],
        jobs: "all" as const,
        why: "gusts",
      },
    ];
    const company = wall({ holds });
    // Setup of a visit lies outside the holds of all its trades, so rule 3 speaks as well.
    expect(brokenRules(company, planFrom(company, { lines, cost }))).toEqual([3, 8]);
  });
  it("two crews on one wall break rule 8", () => {
    const company = wall({ crews: [aCrew(), aCrew({ id: "birch", name: "Birch" })] });
    const two = [
      `alder ${TUE} 07:00 07:20 setup spruce-14`,
      STRIP_1,
      `alder ${TUE} 08:20 09:20 work spruce-14 strip 2-2`,
      `alder ${TUE} 09:20 10:20 work spruce-14 strip 3-3`,
      `alder ${TUE} 10:20 10:50 cleanup spruce-14`,
      `birch ${TUE} 08:00 08:20 setup spruce-14`,
      `birch ${TUE} 08:20 09:20 work spruce-14 wrap 1-1`,
      `birch ${TUE} 09:20 10:20 work spruce-14 wrap 2-2`,
      `birch ${TUE} 10:20 11:20 work spruce-14 wrap 3-3`,
      `birch ${TUE} 11:20 11:50 cleanup spruce-14`,
    ];
    expect(
      brokenRules(
        company,
        planFrom(company, { lines: two, cost: { idleCrewHours: (2 * (480 - 230)) / 60 } }),
      ),
    ).toEqual([8]);
  });
  it("an opener that nothing closes may not be planned", () => {
    const alone = parsed(aCompany({ jobs: [aJob({ tasks: [{ ...strip, units: 1 }] })] }));
    const plan = planFrom(alone, {
      lines: [
        `alder ${TUE} 07:00 07:20 setup spruce-14`,
        `alder ${TUE} 07:20 10:20 work spruce-14 strip 1-1`,
        `alder ${TUE} 10:20 10:50 cleanup spruce-14`,
      ],
      cost: { idleCrewHours: 250 / 60 },
    });
    expect(brokenRules(alone, plan)).toEqual([8]);
  });
});

describe("with one open night", () => {
  const policy = { openNights: 1 };
  const crews = [aCrew(), aCrew({ id: "birch", name: "Birch" })];
  const company = wall({ policy, crews });
  const COVER = `alder ${TUE} 10:20 10:50 cover-up spruce-14`;
  const CLEAN = `alder ${TUE} 10:50 11:20 cleanup spruce-14`;
  const linesOn = (day: string) => [
    `alder ${TUE} 07:00 07:20 setup spruce-14`,
    `alder ${TUE} 07:20 10:20 work spruce-14 strip 1-3`,
    COVER,
    CLEAN,
    `birch ${day} 07:00 07:20 setup spruce-14`,
    `birch ${day} 07:20 10:20 work spruce-14 wrap 1-3`,
    `birch ${day} 10:20 10:50 cleanup spruce-14`,
  ];
  const cost = (nights: number, idleMinutes = 480 - 260 + 480 - 230) => ({
    idleCrewHours: idleMinutes / 60,
    openNights: nights,
  });

  it("two crews may share a wall that is covered and closed the next day", () => {
    expect(checkPlan(company, planFrom(company, { lines: linesOn(WED), cost: cost(1) }))).toEqual([]);
  });
  it("a unit that stays open for two nights breaks rule 8", () => {
    expect(brokenRules(company, planFrom(company, { lines: linesOn("2027-03-18"), cost: cost(2) }))).toEqual([
      8,
    ]);
  });
  it("leaving it uncovered breaks rule 9", () => {
    const bare = swapLines(linesOn(WED), {
      [COVER]: [],
      [CLEAN]: `alder ${TUE} 10:20 10:50 cleanup spruce-14`,
    });
    expect(
      brokenRules(company, planFrom(company, { lines: bare, cost: cost(1, 480 - 230 + 480 - 230) })),
    ).toEqual([9]);
  });
  it("a hold on the closing trade in the night breaks rule 8", () => {
    const holds = [
      {
        id: "h1",
        from: `${TUE}T20:00`,
        to: `${WED}T05:00`,
        trades: ["wrb"],
        jobs: "all" as const,
        why: "rain",
      },
    ];
    const wet = wall({ policy, crews, holds });
    expect(brokenRules(wet, planFrom(wet, { lines: linesOn(WED), cost: cost(1) }))).toEqual([8]);
  });
});

it("a task of the wall that takes no time has its place in each unit, from the first to the last", () => {
  const company = wall({ jobs: [aJob({ tasks: [{ ...strip, laborHours: 0 }, wrap] })] });
  const asOf = present(parseInstant(`${TUE}T06:00`, "America/New_York"), "the morning");
  const plan = planCompany(company, { asOf, seed: 1, iterations: 1 });
  const entry = plan.tasks.find(({ task }) => task === "strip");
  expect(entry?.start).not.toBe(entry?.end);
  expect(checkPlan(company, plan).map(formatBroken)).toEqual([]);
});
