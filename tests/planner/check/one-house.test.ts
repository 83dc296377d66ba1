/** Rules about one crew at one house: who may work, windows, setup and cleanup, completeness, what the plan says of itself. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../../support/company-builder.js";
import { brokenRules, ny, planFrom, swapLines } from "./hand-made-plan.js";

const TUE = "2027-03-16";
const WED = "2027-03-17";

/** Siding (2 hours), then trim (4 hours 20, over the break), then shop work (30 minutes), all on Tuesday. */
const tasks = [
  aTask({ id: "t1" }),
  aTask({ id: "t2", trade: "trim", title: "Trim the front", laborHours: 13, after: [{ task: "t1" }] }),
  aTask({ id: "t3", trade: "shop", title: "Prime boards", laborHours: 1.5, after: [{ task: "t2" }] }),
];
/** Stronger than Alder, and with nothing to do in these plans. */
const birch = aCrew({ id: "birch", name: "Birch", size: 4 });
const house = (change: Partial<CompanyInput> = {}) =>
  parsed(aCompany({ jobs: [aJob({ tasks })], ...change }));
const SETUP = `alder ${TUE} 07:00 07:20 setup spruce-14`;
const SIDE = `alder ${TUE} 07:20 09:20 work spruce-14 t1`;
const TRIM_1 = `alder ${TUE} 09:20 12:00 work spruce-14 t2`;
const BREAK = `alder ${TUE} 12:00 12:30 break`;
const TRIM_2 = `alder ${TUE} 12:30 14:10 work spruce-14 t2`;
const PRIME = `alder ${TUE} 14:10 14:40 work spruce-14 t3`;
const CLEAN = `alder ${TUE} 14:40 15:10 cleanup spruce-14`;
const lines = [SETUP, SIDE, TRIM_1, BREAK, TRIM_2, PRIME, CLEAN];
// Paid 8 hours (8:30 less the break); 7 hours 40 of blocks.
const cost = { idleCrewHours: 20 / 60 };
const good = planFrom(house(), { lines, cost });

const withLines = (changed: readonly string[], idleMinutes = 20) =>
  brokenRules(house(), planFrom(house(), { lines: changed, cost: { idleCrewHours: idleMinutes / 60 } }));

describe("a good day at one house", () => {
  it("breaks no rule", () => {
    expect(checkPlan(house(), good)).toEqual([]);
  });
});

describe("rule 1, eligible", () => {
  it("is broken by a crew without the trade", () => {
    // The crew's pace in trim goes with the trade, so nothing can be said of the length.
    const company = house({ crews: [aCrew({ trades: { siding: 1, shop: 1 } }), birch] });
    expect(brokenRules(company, good)).toEqual([1]);
  });
  it("is broken by a crew that is too small", () => {
    const company = house({
      crews: [aCrew(), birch],
      jobs: [aJob({ tasks: [aTask({ id: "t1", minCrew: 4 }), ...tasks.slice(1)] })],
    });
    expect(brokenRules(company, good)).toEqual([1]);
  });
  it("is broken by a crew that is not the named one", () => {
    const company = house({
      crews: [aCrew(), birch],
      jobs: [aJob({ tasks: [aTask({ id: "t1", crew: "birch" }), ...tasks.slice(1)] })],
    });
    expect(brokenRules(company, good)).toEqual([1]);
  });
  it("is said with the crew, the task and the reason", () => {
    const company = house({
      crews: [aCrew(), birch],
      jobs: [aJob({ tasks: [aTask({ id: "t1", minCrew: 4 }), ...tasks.slice(1)] })],
    });
    expect(checkPlan(company, good).map(formatBroken)).toEqual([
      'Rule 1 (eligible): Crew Alder works on "Side the front" (t1) at 14 Spruce Lane, but is 3 strong and the task asks for 4.',
    ]);
  });
});

describe("rule 3, windows", () => {
  it("is broken by a hold on the trade while it is worked", () => {
    const holds = [
      {
        id: "h1",
        from: `${TUE}T13:00`,
        to: `${TUE}T13:10`,
        trades: ["trim"],
        jobs: "all" as const,
        why: "gusts",
      },
    ];
    expect(brokenRules(house({ holds }), good)).toEqual([3]);
  });
  it("is broken by cleanup in a hold of a trade worked in that stay, even if another trade was worked last", () => {
    const holds = [
      {
        id: "h1",
        from: `${TUE}T14:50`,
        to: `${TUE}T15:00`,
        trades: ["siding"],
        jobs: "all" as const,
        why: "rain",
      },
    ];
    expect(checkPlan(house({ holds }), good).map(formatBroken)).toEqual([
      "Rule 3 (windows): Crew Alder has cleanup at 14 Spruce Lane Tue 16 Mar 14:40 to 15:10, but hold h1 (rain) runs Tue 16 Mar 14:50 to 15:00.",
    ]);
  });
  it("is broken by work outside the house's access hours", () => {
    expect(brokenRules(house({ jobs: [aJob({ tasks, access: ["07:30", "18:00"] })] }), good)).toEqual([3]);
  });
  it("is broken by work on a day off", () => {
    const company = house({ crews: [aCrew({ off: [{ from: TUE, to: TUE }] })] });
    expect(brokenRules(company, good)).toContain(3);
  });
  it("is broken by outdoor work after last light less the margin", () => {
    // On 8 December the sun sets at 16:04 in Portland, Maine, from memory; the margin makes it 15:49.
    const december = "2026-12-08";
    const company = parsed(
      aCompany({
        crews: [aCrew({ week: { tue: ["08:00", "17:00"] } })],
        jobs: [aJob({ tasks: [aTask({ laborHours: 19.5 })] })],
      }),
    );
    const words = (finish: string, clean: string) => ({
      asOf: ny(december, "00:00"),
      lines: [
        `alder ${december} 08:00 08:20 setup spruce-14`,
        `alder ${december} 08:20 13:00 work spruce-14 t1`,
        `alder ${december} 13:00 13:30 break`,
        `alder ${december} 13:30 ${finish} work spruce-14 t1`,
        `alder ${december} ${finish} ${clean} cleanup spruce-14`,
      ],
      cost: { idleCrewHours: 1 + 10 / 60 + 0 },
      shiftEnds: { [`alder ${december}`]: "17:00" },
    });
    expect(brokenRules(company, planFrom(company, words("15:20", "15:50")))).toContain(3);
    const shorter = parsed(
      aCompany({
        crews: [aCrew({ week: { tue: ["08:00", "17:00"] } })],
        jobs: [aJob({ tasks: [aTask({ laborHours: 19 })] })],
      }),
    );
    const fits = { ...words("15:10", "15:40"), cost: { idleCrewHours: 80 / 60 } };
    expect(checkPlan(shorter, planFrom(shorter, fits))).toEqual([]);
  });
  it("is broken by a break that is left out, moved or too short", () => {
    const noBreak = lines.filter((line) => line !== BREAK);
    expect(withLines(noBreak)).toEqual([3]);
    expect(withLines(swapLines(lines, { [BREAK]: `alder ${TUE} 12:00 12:20 break` }))).toEqual([3]);
  });
  it("is broken by work in the break", () => {
    const through = [
      SETUP,
      SIDE,
      `alder ${TUE} 09:20 13:40 work spruce-14 t2`,
      `alder ${TUE} 13:40 14:10 work spruce-14 t3`,
      `alder ${TUE} 14:10 14:40 cleanup spruce-14`,
    ];
    expect(withLines(through)).toEqual([3]);
  });
});

describe("rule 4, order", () => {
  it("is broken by a task that starts before what it follows has ended", () => {
    const backwards = [{ task: "t2" }];
    const company = house({
      jobs: [
        aJob({
          tasks: [
            aTask({ id: "t1", after: backwards }),
            aTask({ ...tasks[1], after: [] }),
            ...tasks.slice(2),
          ],
        }),
      ],
    });
    expect(brokenRules(company, good)).toEqual([4]);
  });
  it("is broken by a lag that has not passed", () => {
    const cured = aTask({ ...tasks[1], after: [{ task: "t1", lagHours: 1 }] });
    const company = house({ jobs: [aJob({ tasks: [aTask({ id: "t1" }), cured, ...tasks.slice(2)] })] });
    expect(checkPlan(company, good).map(formatBroken)).toEqual([
      'Rule 4 (order): "Trim the front" (t2) at 14 Spruce Lane starts Tue 16 Mar 09:20, but "Side the front" (t1) at 14 Spruce Lane ends Tue 16 Mar 09:20 and 1 hours must pass.',
    ]);
  });
});

describe("rule 6, continuity", () => {
  it("is broken by a task that gets fewer minutes than it takes", () => {
    const short = swapLines(lines, {
      [TRIM_2]: `alder ${TUE} 12:30 14:00 work spruce-14 t2`,
      [PRIME]: `alder ${TUE} 14:00 14:30 work spruce-14 t3`,
      [CLEAN]: `alder ${TUE} 14:30 15:00 cleanup spruce-14`,
    });
    expect(withLines(short, 30)).toEqual([6]);
  });
  it("is broken by a crew that stands idle in the middle of a task", () => {
    const idle = swapLines(lines, {
      [TRIM_2]: `alder ${TUE} 12:40 14:20 work spruce-14 t2`,
      [PRIME]: `alder ${TUE} 14:20 14:50 work spruce-14 t3`,
      [CLEAN]: `alder ${TUE} 14:50 15:20 cleanup spruce-14`,
    });
    expect(withLines(idle)).toEqual([6]);
  });
  it("is broken by a crew that stops early and goes on the next day", () => {
    const stopped = [
      SETUP,
      SIDE,
      TRIM_1,
      `alder ${TUE} 12:00 12:30 break`,
      `alder ${TUE} 12:30 13:00 work spruce-14 t2`,
      `alder ${TUE} 13:00 13:30 cleanup spruce-14`,
      `alder ${WED} 07:00 07:20 setup spruce-14`,
      `alder ${WED} 07:20 08:30 work spruce-14 t2`,
      `alder ${WED} 08:30 09:00 work spruce-14 t3`,
      `alder ${WED} 09:00 09:30 cleanup spruce-14`,
    ];
    expect(withLines(stopped, 120 + 330)).toEqual([6]);
  });
  it("is broken by other work in the middle of a task", () => {
    const company = house({
      jobs: [aJob({ tasks: [...tasks.slice(0, 2), aTask({ ...tasks[2], after: [] })] })],
    });
    const mixed = swapLines(lines, {
      [TRIM_2]: [`alder ${TUE} 12:30 13:00 work spruce-14 t3`, `alder ${TUE} 13:00 14:40 work spruce-14 t2`],
      [PRIME]: [],
    });
    expect(brokenRules(company, planFrom(company, { lines: mixed, cost }))).toEqual([6]);
  });
});

describe("rule 9, day's end", () => {
  it("is broken by a setup that is too short", () => {
    expect(withLines(swapLines(lines, { [SETUP]: `alder ${TUE} 07:10 07:20 setup spruce-14` }), 30)).toEqual([
      9,
    ]);
  });
  it("is broken by a cleanup that is left out", () => {
    expect(
      withLines(
        lines.filter((line) => line !== CLEAN),
        50,
      ),
    ).toEqual([9]);
  });
  it("is broken by cover-up where nothing is open", () => {
    expect(
      withLines(
        swapLines(lines, {
          [CLEAN]: [
            `alder ${TUE} 14:40 14:50 cover-up spruce-14`,
            `alder ${TUE} 14:50 15:20 cleanup spruce-14`,
          ],
        }),
        10,
      ),
    ).toEqual([9]);
  });
});

describe("rule 12, complete", () => {
  it("is broken by an open task that is neither planned nor listed", () => {
    const company = house({ jobs: [aJob({ tasks: [...tasks, aTask({ id: "t4", laborHours: 3 })] })] });
    expect(brokenRules(company, good)).toEqual([12]);
  });
  it("is broken by a done task that is planned again", () => {
    const company = house({
      jobs: [aJob({ tasks: [aTask({ id: "t1", status: "done" }), ...tasks.slice(1)] })],
    });
    expect(brokenRules(company, good)).toContain(12);
  });
  it("is broken by a task that is listed twice", () => {
    expect(brokenRules(house(), { ...good, tasks: [...good.tasks, ...good.tasks.slice(0, 1)] })).toEqual([
      12,
    ]);
  });
  it("is broken by a task that is called impossible although a crew has room for it", () => {
    const company = house({ jobs: [aJob({ tasks: [...tasks, aTask({ id: "t4", laborHours: 3 })] })] });
    const impossible = [{ job: "spruce-14", task: "t4", why: "No crew." }];
    expect(brokenRules(company, planFrom(company, { lines, cost, impossible }))).toEqual([12]);
  });
  it("is kept by a task that no crew can ever do and that is listed as impossible", () => {
    // Cedar is strong enough, but has no shift on any day.
    const cedar = aCrew({ id: "cedar", name: "Cedar", size: 9, week: {} });
    const company = house({
      crews: [aCrew(), cedar],
      jobs: [aJob({ tasks: [...tasks, aTask({ id: "t4", minCrew: 9 })] })],
    });
    const impossible = [{ job: "spruce-14", task: "t4", why: "The only crew of 9 has no shift." }];
    expect(checkPlan(company, planFrom(company, { lines, cost, impossible }))).toEqual([]);
  });
});

describe("rule 13, prompt", () => {
  it("is broken by a first task that could start earlier that day", () => {
    const late = planFrom(parsed(aCompany({ jobs: [aJob({ tasks: tasks.slice(0, 1) })] })), {
      lines: [
        `alder ${TUE} 08:00 08:20 setup spruce-14`,
        `alder ${TUE} 08:20 10:20 work spruce-14 t1`,
        `alder ${TUE} 10:20 10:50 cleanup spruce-14`,
      ],
      cost: { idleCrewHours: 310 / 60 },
    });
    expect(brokenRules(parsed(aCompany({ jobs: [aJob({ tasks: tasks.slice(0, 1) })] })), late)).toEqual([13]);
  });
  it("is broken by a task that could start a day earlier", () => {
    const company = parsed(aCompany({ jobs: [aJob({ tasks: tasks.slice(0, 1) })] }));
    const late = planFrom(company, {
      lines: [
        `alder ${WED} 07:00 07:20 setup spruce-14`,
        `alder ${WED} 07:20 09:20 work spruce-14 t1`,
        `alder ${WED} 09:20 09:50 cleanup spruce-14`,
      ],
      cost: { idleCrewHours: 310 / 60 },
    });
    expect(brokenRules(company, late)).toEqual([13]);
  });
  it("is kept by a task that is ready just as the meal break begins and starts after it", () => {
    const prime = (id: string, title: string, more = {}) =>
      aTask({ id, title, trade: "shop", laborHours: 15, ...more });
    const company = parsed(
      aCompany({
        jobs: [
          aJob({
            tasks: [
              prime("t1", "Prime"),
              prime("t2", "Paint", { laborHours: 6, after: [{ task: "t1", lagHours: 24 }] }),
            ],
          }),
        ],
      }),
    );
    const afterBreak = {
      lines: [`alder ${TUE} 07:00 12:00 work spruce-14 t1`, `alder ${WED} 12:30 14:30 work spruce-14 t2`],
      cost: { idleCrewHours: (180 + 360) / 60 },
    };
    expect(checkPlan(company, planFrom(company, afterBreak))).toEqual([]);
  });
  it("is broken by an idle quarter of an hour before a task that is ready", () => {
    const idle = swapLines(lines, {
      [PRIME]: `alder ${TUE} 14:25 14:55 work spruce-14 t3`,
      [CLEAN]: `alder ${TUE} 14:55 15:25 cleanup spruce-14`,
    });
    expect(withLines(idle)).toEqual([13]);
  });
});

describe("what the plan says of itself", () => {
  it("is refused where it names a crew that does not exist, and nothing else is then said", () => {
    const blocks = good.blocks.map((block, index) => (index === 0 ? { ...block, crew: "aspen" } : block));
    expect(checkPlan(house(), { ...good, blocks }).map(formatBroken)).toEqual([
      'The plan itself (plan format): Block 1 (setup of crew aspen) names crew "aspen", which the company file does not have.',
    ]);
  });
  it("is refused where a block ends before it starts or a time has no offset", () => {
    const swapped = good.blocks.map((block, index) =>
      index === 1 ? { ...block, start: block.end, end: block.start } : block,
    );
    expect(brokenRules(house(), { ...good, blocks: swapped })).toEqual(["format"]);
    expect(brokenRules(house(), { ...good, asOf: `${TUE}T00:00` })).toEqual(["format"]);
  });
  it("is refused where an entry's times are not those of its blocks", () => {
    const entries = good.tasks.map((entry) =>
      entry.task === "t1" ? { ...entry, end: ny(TUE, "09:00") } : entry,
    );
    expect(brokenRules(house(), { ...good, tasks: entries })).toEqual(["format"]);
  });
  it.each([
    "lateDays",
    "idleCrewHours",
    "moves",
    "changes",
    "openNights",
    "overtimeCrewHours",
    "total",
  ] as const)("is refused where %s is wrong", (name) => {
    expect(brokenRules(house(), { ...good, cost: { ...good.cost, [name]: good.cost[name] + 1 } })).toEqual([
      "cost",
    ]);
  });
  it("is refused where a day is missing, is one too many, or has the wrong light", () => {
    const day = good.days[0];
    if (day === undefined) throw new Error("the good plan has a day");
    const rules = (days: typeof good.days) => brokenRules(house(), { ...good, days });
    expect(rules([])).toEqual(["days"]);
    expect(rules([day, { ...day, date: WED }])).toEqual(["days"]);
    expect(rules([{ ...day, lightInHandMinutes: 0 }])).toEqual(["days"]);
    expect(rules([{ ...day, firstLight: ny(TUE, "06:00") }])).toEqual(["days"]);
    expect(rules([{ ...day, lastLight: null }])).toEqual(["days"]);
    expect(rules([{ ...day, stretch: true }])).toEqual(["days"]);
    expect(rules([{ ...day, toolsDown: ny(TUE, "15:15") }])).toEqual(["days"]);
    expect(rules([{ ...day, toolsDown: ny(TUE, "14:30") }])).toEqual(["days"]);
  });
});
