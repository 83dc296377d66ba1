/** Rule 8 with open nights: crews share a chain, cover what stays open, and close it in time. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask, TRADES } from "../../support/company-builder.js";
import { blocksOf, planned, startOf, whyNot, workOf } from "../planned.js";

const alder = aCrew({ trades: { "tear-off": 1 } });
type CrewChange = NonNullable<Parameters<typeof aCrew>[0]>;
const birch = (change: CrewChange = {}) =>
  aCrew({ id: "birch", name: "Birch", trades: { windows: 1 }, ...change });
/** Three hours to strip, five to close. */
const shared = (openNights: number, rest: Partial<CompanyInput> = {}) =>
  aCompany({
    policy: { openNights },
    crews: [alder, birch()],
    jobs: [
      aJob({
        tasks: [
          aTask({ id: "strip", trade: "tear-off", area: "front", laborHours: 9, opens: true }),
          aTask({
            id: "close",
            trade: "windows",
            area: "front",
            laborHours: 15,
            closes: true,
            after: [{ task: "strip" }],
          }),
        ],
      }),
    ],
    ...rest,
  });

describe("one open night", () => {
  it("lets two crews share a chain, each covering what is open when it leaves", () => {
    const plan = planned(shared(1));
    expect(workOf(plan, "strip")).toEqual(["alder Tue 16 Mar 07:20-10:20"]);
    // Tools down at 14:30: half an hour to cover up, half an hour to clean up.
    expect(workOf(plan, "close")).toEqual([
      "birch Tue 16 Mar 10:20-12:00",
      "birch Tue 16 Mar 12:30-14:30",
      "birch Wed 17 Mar 07:20-08:40",
    ]);
    expect(blocksOf(plan, "cover-up", "cleanup")).toEqual([
      "alder Tue 16 Mar 10:20-10:50 spruce-14",
      "alder Tue 16 Mar 10:50-11:20 spruce-14",
      "birch Tue 16 Mar 14:30-15:00 spruce-14",
      "birch Tue 16 Mar 15:00-15:30 spruce-14",
      "birch Wed 17 Mar 08:40-09:10 spruce-14",
    ]);
    expect(plan.cost.openNights).toBe(1);
  });

  it("is covered by a crew without cleanup whose only room for it lies behind the meal, though it is closed by then", () => {
    const trades = TRADES.map((trade) => (trade.id === "tear-off" ? { ...trade, cleanupMinutes: 0 } : trade));
    // Stripped by 11:50, ten minutes before Alder's meal; closed by 12:20, before it is over.
    const tasks = [
      aTask({ id: "strip", trade: "tear-off", area: "front", laborHours: 13.5, opens: true }),
      aTask({
        id: "close",
        trade: "windows",
        area: "front",
        laborHours: 1.5,
        closes: true,
        after: [{ task: "strip" }],
      }),
    ];
    const early = birch({ week: { tue: ["06:00", "14:30"] } });
    const plan = planned(shared(1, { trades, crews: [alder, early], jobs: [aJob({ tasks })] }));
    expect(workOf(plan, "strip")).toEqual(["alder Tue 16 Mar 07:20-11:50"]);
    expect(workOf(plan, "close")).toEqual(["birch Tue 16 Mar 11:50-12:20"]);
    expect(blocksOf(plan, "cover-up")).toEqual(["alder Tue 16 Mar 12:30-13:00 spruce-14"]);
  });

  it("opens a wall only the day before the crew that closes it can be there", () => {
    const off = [{ from: "2027-03-16", to: "2027-03-18" }];
    const plan = planned(shared(1, { crews: [alder, birch({ off })] }));
    expect(startOf(plan, "strip")).toBe("Thu 18 Mar 07:20");
    expect(startOf(plan, "close")).toBe("Fri 19 Mar 07:20");
  });

  it("is not spent on a hold of the trade that closes the wall", () => {
    const holds = [
      {
        id: "h1",
        from: "2027-03-17T00:00",
        to: "2027-03-18T00:00",
        trades: ["windows"],
        jobs: "all" as const,
      },
    ];
    // Opened on Tuesday it would stand open into Wednesday's hold.
    expect(startOf(planned(shared(1, { holds })), "strip")).toBe("Thu 18 Mar 07:20");
  });
});

describe("two open nights", () => {
  it("open a wall two days before the crew that closes it can be there", () => {
    const off = [{ from: "2027-03-16", to: "2027-03-18" }];
    const plan = planned(shared(2, { crews: [alder, birch({ off })] }));
    expect(startOf(plan, "strip")).toBe("Wed 17 Mar 07:20");
    expect(plan.cost.openNights).toBe(2);
  });
});

describe("no open nights", () => {
  it("leave the same chain impossible: no one crew has both trades", () => {
    expect(whyNot(planned(shared(0)), "strip")).toMatch(/^No crew has all the trades of this chain/);
  });
});
