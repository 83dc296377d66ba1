/** Rules about crews that go from house to house: one place, gates and waits, rain work, equipment, moves. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { aCompany, aCrew, aJob, aTask, aWait, parsed } from "../../support/company-builder.js";
import { brokenRules, ny, planFrom, swapLines } from "./hand-made-plan.js";

const TUE = "2027-03-16";
const WED = "2027-03-17";
const THU = "2027-03-18";
const FRI = "2027-03-19";

/** Next door to Spruce Lane, at the same point on the map: the drive is the fixed 5 minutes. */
const fir = (tasks: Parameters<typeof aJob>[0]) => aJob({ id: "fir-3", name: "3 Fir Court", ...tasks });

describe("rule 2, one place", () => {
  const yardCrew = aCrew({ startsAt: "yard" });
  const company = parsed(
    aCompany({
      company: {
        name: "Tern Rock Exteriors",
        timeZone: "America/New_York",
        yard: { lat: 43.63, lon: -70.28 },
      },
      crews: [yardCrew],
      jobs: [aJob({ tasks: [aTask()] }), fir({ tasks: [aTask({ title: "Side the back" })] })],
    }),
  );
  const LOAD = `alder ${TUE} 07:00 07:15 load`;
  const OUT = `alder ${TUE} 07:15 07:20 travel spruce-14`;
  const SETUP = `alder ${TUE} 07:20 07:40 setup spruce-14`;
  const ACROSS = `alder ${TUE} 10:10 10:15 travel fir-3`;
  const SETUP_2 = `alder ${TUE} 10:15 10:35 setup fir-3`;
  const HOME = `alder ${TUE} 13:35 13:40 travel fir-3`;
  const lines = [
    LOAD,
    OUT,
    SETUP,
    `alder ${TUE} 07:40 09:40 work spruce-14 t1`,
    `alder ${TUE} 09:40 10:10 cleanup spruce-14`,
    ACROSS,
    SETUP_2,
    `alder ${TUE} 10:35 12:00 work fir-3 t1`,
    `alder ${TUE} 12:00 12:30 break`,
    `alder ${TUE} 12:30 13:05 work fir-3 t1`,
    `alder ${TUE} 13:05 13:35 cleanup fir-3`,
    HOME,
  ];
  // Paid 480 minutes, blocks of 370.
  const rules = (changed: readonly string[], idleMinutes = 110) =>
    brokenRules(company, planFrom(company, { lines: changed, cost: { idleCrewHours: idleMinutes / 60 } }));

  it("is kept by a day from the yard to two houses and back", () => {
    expect(checkPlan(company, planFrom(company, { lines, cost: { idleCrewHours: 110 / 60 } }))).toEqual([]);
  });
  it("is broken by a drive that is left out, too short or too long", () => {
    expect(
      rules(
        lines.filter((line) => line !== ACROSS),
        115,
      ),
    ).toEqual([2]);
    expect(rules(swapLines(lines, { [ACROSS]: `alder ${TUE} 10:10 10:13 travel fir-3` }), 112)).toEqual([2]);
    expect(rules(swapLines(lines, { [HOME]: `alder ${TUE} 13:35 13:50 travel fir-3` }), 100)).toEqual([2]);
  });
  it("is broken by a crew of the yard that does not load or does not drive back", () => {
    expect(
      rules(
        lines.filter((line) => line !== LOAD),
        125,
      ),
    ).toEqual([2]);
    expect(
      rules(
        lines.filter((line) => line !== HOME),
        115,
      ),
    ).toEqual([2]);
  });
  it("is broken by two blocks of a crew at one time", () => {
    expect(rules(swapLines(lines, { [SETUP_2]: `alder ${TUE} 10:12 10:32 setup fir-3` }))).toContain(2);
  });
  it("is broken by a task that two crews work on", () => {
    const two = parsed(
      aCompany({
        crews: [aCrew(), aCrew({ id: "birch", name: "Birch" })],
        jobs: [aJob({ tasks: [aTask()] })],
      }),
    );
    const shared = planFrom(two, {
      lines: [
        `alder ${TUE} 07:00 07:20 setup spruce-14`,
        `alder ${TUE} 07:20 08:20 work spruce-14 t1`,
        `alder ${TUE} 08:20 08:50 cleanup spruce-14`,
        `birch ${TUE} 08:00 08:20 setup spruce-14`,
        `birch ${TUE} 08:20 09:20 work spruce-14 t1`,
        `birch ${TUE} 09:20 09:50 cleanup spruce-14`,
      ],
      cost: { idleCrewHours: (2 * (480 - 110)) / 60 },
    });
    expect(checkPlan(two, shared).map(formatBroken)).toEqual([
      'Rule 2 (one place): "Side the front" (t1) at 14 Spruce Lane is worked by more than one crew: Alder, Birch.',
    ]);
  });
});

describe("rule 5, gates", () => {
  const after = [{ task: "t1" }];
  const company = (change: Parameters<typeof aTask>[0] = {}, expected = "2027-03-17") =>
    parsed(
      aCompany({
        jobs: [
          aJob({
            deliveries: [{ id: "d1", what: "Trim boards", expected }],
            tasks: [
              aTask(),
              aWait({ after }),
              aTask({
                id: "t2",
                title: "Trim",
                trade: "trim",
                after: [{ task: "w1" }],
                needs: ["d1"],
                ...change,
              }),
            ],
          }),
        ],
      }),
    );
  const words = (day: string, waitEnd = ny(THU, "00:00")) => ({
    lines: [
      `alder ${TUE} 07:00 07:20 setup spruce-14`,
      `alder ${TUE} 07:20 09:20 work spruce-14 t1`,
      `alder ${TUE} 09:20 09:50 cleanup spruce-14`,
      `alder ${day} 07:00 07:20 setup spruce-14`,
      `alder ${day} 07:20 09:20 work spruce-14 t2`,
      `alder ${day} 09:20 09:50 cleanup spruce-14`,
    ],
    waits: [["spruce-14", "w1", ny(TUE, "09:20"), waitEnd]] as const,
    cost: { idleCrewHours: 620 / 60 },
  });

  it("is kept by a task after a full business day of waiting and a delivery's buffer", () => {
    expect(checkPlan(company(), planFrom(company(), words(THU)))).toEqual([]);
  });
  it("is broken by work before a delivery is usable", () => {
    expect(brokenRules(company({}, THU), planFrom(company({}, THU), words(THU)))).toEqual([5]);
  });
  it("is broken by work before its not-before", () => {
    const late = company({ notBefore: FRI });
    expect(checkPlan(late, planFrom(late, words(THU))).map(formatBroken)).toEqual([
      'Rule 5 (gates): "Trim" (t2) at 14 Spruce Lane starts Thu 18 Mar 07:20, before its not-before time (Fri 19 Mar 00:00).',
    ]);
  });
  it("is broken by a wait that ends too early", () => {
    const early = words(THU, ny(WED, "00:00"));
    expect(brokenRules(company(), planFrom(company(), early))).toEqual([5]);
  });
  it("is broken by a wait that starts later than it could", () => {
    const late = { ...words(THU), waits: [["spruce-14", "w1", ny(TUE, "10:20"), ny(THU, "00:00")]] as const };
    expect(brokenRules(company(), planFrom(company(), late))).toEqual([5]);
  });
  it("leaves work behind a wait to rule 4", () => {
    const noDelivery = company({ needs: [] });
    expect(brokenRules(noDelivery, planFrom(noDelivery, words(WED)))).toEqual([4]);
  });
});

describe("rule 6, rain work", () => {
  const HOLD = {
    id: "h1",
    from: `${TUE}T10:00`,
    to: `${TUE}T14:00`,
    trades: ["siding"],
    jobs: "all" as const,
    why: "showers",
  };
  const company = (change: Partial<CompanyInput> = {}) =>
    parsed(
      aCompany({
        jobs: [
          aJob({ tasks: [aTask({ laborHours: 10 })] }),
          fir({ tasks: [aTask({ trade: "shop", title: "Prime boards" })] }),
        ],
        holds: [HOLD],
        ...change,
      }),
    );
  // Siding 07:20 to 09:30, shop next door through the hold, and the last 70 minutes of siding on Wednesday:
  // back at 12:15 the crew could still go on from 14:20 to 15:00, but a hold that ends at 15:30 would not let it.
  const lines = [
    `alder ${TUE} 07:00 07:20 setup spruce-14`,
    `alder ${TUE} 07:20 09:30 work spruce-14 t1`,
    `alder ${TUE} 09:30 10:00 cleanup spruce-14`,
    `alder ${TUE} 10:00 10:05 travel fir-3`,
    `alder ${TUE} 10:05 12:00 work fir-3 t1`,
    `alder ${TUE} 12:00 12:30 break`,
    `alder ${TUE} 12:30 12:35 work fir-3 t1`,
    `alder ${WED} 07:00 07:20 setup spruce-14`,
    `alder ${WED} 07:20 08:30 work spruce-14 t1`,
    `alder ${WED} 08:30 09:00 cleanup spruce-14`,
  ];
  const cost = { idleCrewHours: (480 - 305 + 480 - 120) / 60, moves: 1 };
  const allDay = { ...HOLD, to: `${TUE}T15:30` };

  it("may fill a hold, and is counted as a move", () => {
    const held = company({ holds: [allDay] });
    expect(checkPlan(held, planFrom(held, { lines, cost }))).toEqual([]);
  });
  it("may not leave a task that nothing stops", () => {
    const free = company({ holds: [] });
    expect(brokenRules(free, planFrom(free, { lines, cost }))).toEqual([6]);
  });
  it("may not last longer than the hold", () => {
    const short = company({ holds: [{ ...HOLD, to: `${TUE}T12:00` }] });
    expect(checkPlan(short, planFrom(short, { lines, cost })).map(formatBroken)).toEqual([
      'Rule 6 (continuity): Crew Alder works on "Prime boards" (t1) at 3 Fir Court at Tue 16 Mar 12:30, though it has begun and not finished "Side the front" (t1) at 14 Spruce Lane, which no hold stops then.',
    ]);
  });
  it("is no move where the task that was left is finished", () => {
    const held = company({ holds: [allDay] });
    expect(brokenRules(held, planFrom(held, { lines, cost: { ...cost, moves: 0 } }))).toEqual(["cost"]);
  });
});

describe("rule 10, equipment", () => {
  const company = (count: number) =>
    parsed(
      aCompany({
        crews: [aCrew(), aCrew({ id: "birch", name: "Birch" })],
        equipment: [{ id: "lift", name: "Boom lift", count }],
        jobs: [
          aJob({ tasks: [aTask({ equipment: { lift: 1 } })] }),
          fir({ tasks: [aTask({ equipment: { lift: 1 } })] }),
        ],
      }),
    );
  const lines = ["alder spruce-14", "birch fir-3"].flatMap((who) => {
    const [crew, job] = who.split(" ");
    return [
      `${crew} ${TUE} 07:00 07:20 setup ${job}`,
      `${crew} ${TUE} 07:20 09:20 work ${job} t1`,
      `${crew} ${TUE} 09:20 09:50 cleanup ${job}`,
    ];
  });
  const cost = { idleCrewHours: 620 / 60 };
  it("is kept while there is one for each", () => {
    expect(checkPlan(company(2), planFrom(company(2), { lines, cost }))).toEqual([]);
  });
  it("is broken by two tasks that use the only one at a time", () => {
    expect(brokenRules(company(1), planFrom(company(1), { lines, cost }))).toEqual([10]);
  });
});

describe("late days and overtime", () => {
  it("are counted in calendar days, weighed in the total, and in hours beyond the week's", () => {
    const company = parsed(
      aCompany({
        policy: { weeklyHours: 7 },
        jobs: [aJob({ promised: "2027-03-14", weight: 3, tasks: [aTask()] })],
      }),
    );
    const plan = planFrom(company, {
      lines: [
        `alder ${TUE} 07:00 07:20 setup spruce-14`,
        `alder ${TUE} 07:20 09:20 work spruce-14 t1`,
        `alder ${TUE} 09:20 09:50 cleanup spruce-14`,
      ],
      cost: {
        lateDays: 2,
        idleCrewHours: 310 / 60,
        overtimeCrewHours: 1,
        total: 2 * 3 * 300 + (310 / 60) * 40 + 90,
      },
    });
    expect(checkPlan(company, plan)).toEqual([]);
  });
});
