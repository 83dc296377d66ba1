/** What each report from site has moved, as the office reads it: its own part, and neither time's nor the search's. */
import { describe, expect, it } from "vitest";
import type { RippleView } from "../../src/board/ripple-view.js";
import { present } from "../../src/domain/result.js";
import { civilDate, parseInstant, type Minute } from "../../src/domain/time.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import type { ReportInput } from "../../src/services/report-action.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { useDesks } from "../support/desk.js";
import { sharedRipples } from "../support/shared-ripples.js";
import { aReport, damage, DONE, left, STRETCH } from "../support/site-reports.js";

const at = (wall: string): Minute => present(parseInstant(wall, "America/New_York"), `the time ${wall}`);
const NOOR = { personId: null, personName: "Noor" };

/** Alder sides the front until two and then begins the back; Birch has its own house. */
const COMPANY = aCompany({
  crews: [aCrew(), aCrew({ id: "birch", name: "Birch", lead: "Ines" })],
  jobs: [
    aJob({
      promised: "2026-12-04",
      tasks: [
        aTask({ crew: "alder", laborHours: 18 }),
        aTask({ id: "t2", title: "Side the back", crew: "alder", laborHours: 18, after: [{ task: "t1" }] }),
      ],
    }),
    aJob({
      id: "cove-3",
      name: "3 Cove Street",
      tasks: [aTask({ id: "c1", crew: "birch", laborHours: 18 })],
    }),
  ],
});
const COVE = { job: "cove-3", task: "c1" };

let now = at("2026-12-03T07:00");
const desks = useDesks({ clock: () => now, now: () => new Date(now * 60_000) });
async function open(): Promise<OpenDesk> {
  now = at("2026-12-03T07:00");
  return desks.open(COMPANY);
}

/** What of a report the office reads, by somebody who has not asked before. */
async function rippleOf(input: ReportInput): Promise<RippleView | undefined> {
  const reports = openSiteReports(await desks.database());
  const report = present(await reports.find(input.key), "the report that was taken");
  return sharedRipples(await desks.database()).of(report);
}

async function say(desk: OpenDesk, input: ReportInput): Promise<ReportInput> {
  expect(await desk.report(input, NOOR)).toEqual({ ok: true, value: "taken" });
  return input;
}

describe("the ripple of a report", () => {
  it("is what it moves: tasks, houses and promised dates", async () => {
    const desk = await open();
    expect(await rippleOf(await say(desk, aReport(damage(12))))).toMatchObject({
      summary: "1 promise broken, 1 house later, 2 tasks moved.",
      isBad: true,
      houses: [
        {
          words:
            "14 Spruce Lane: would finish Mon 7 Dec, 3 days later (without it Fri 4 Dec); promise broken, 3 days late (was in time)",
          isBad: true,
        },
      ],
      tasks: [
        { words: "Side the front, 14 Spruce Lane: Thu 3 Dec to Fri 4 Dec (was Thu 3 Dec)", isBad: true },
        {
          words: "Side the back, 14 Spruce Lane: Fri 4 Dec to Mon 7 Dec (was Thu 3 Dec to Fri 4 Dec)",
          isBad: true,
        },
      ],
      moreTasks: 0,
    });
  });

  it("has nothing of the hours that have gone by, though the forecast begins again", async () => {
    const desk = await open();
    now = at("2026-12-03T13:40");
    expect((await rippleOf(await say(desk, aReport(DONE))))?.summary).toBe("Nothing else moves.");
    // Birch has said nothing all day: in the forecast its work begins only now.
    const { plan } = desk.current();
    expect(plan.tasks.find(({ task }) => task === "c1")?.end.slice(0, 10)).toBe("2026-12-04");
  });

  it("is its own part, of several in a row and whatever plans were made in between", async () => {
    const desk = await open();
    now = at("2026-12-03T10:00");
    const inputs = [
      await say(desk, aReport(damage(12))),
      await say(desk, aReport(damage(30), { crew: "birch", at: COVE })),
      await say(desk, aReport(STRETCH, { at: null })),
    ];
    const [first, second, third] = await Promise.all(inputs.map(rippleOf));
    const housesOf = (ripple: RippleView | undefined) =>
      ripple?.tasks.map(({ words }) => words.split(":")[0]);
    expect(housesOf(first)).toEqual(["Side the front, 14 Spruce Lane", "Side the back, 14 Spruce Lane"]);
    expect(housesOf(second)).toEqual(["Side the front, 3 Cove Street"]);
    expect(third?.summary).toBe("Nothing else moves.");
  });

  it("stays what it was, whatever is said and planned after it, and after a start of the program", async () => {
    const desk = await open();
    const first = await say(desk, aReport(left(30)));
    const then = await rippleOf(first);
    now = at("2026-12-04T09:00");
    await say(desk, aReport(left(2), { date: civilDate("2026-12-04") }));
    await desk.close();
    await desks.open();
    expect(await rippleOf(first)).toEqual(then);
    expect(then?.tasks).toHaveLength(2);
  });

  it("is asked of the thread once, however often it is looked at", async () => {
    const desk = await open();
    const { key } = await say(desk, aReport(left(30)));
    const report = present(await openSiteReports(await desks.database()).find(key), "the report");
    const ripples = sharedRipples(await desks.database());
    const [one, other] = await Promise.all([ripples.of(report), ripples.of(report)]);
    expect(one).toBeDefined();
    expect(other).toBe(one);
  });

  it("of a change that there was no plan before is unknown", async () => {
    await open();
    const report = { key: "", version: 1, receivedAt: new Date(now * 60_000) };
    expect(await sharedRipples(await desks.database()).of(report)).toBeUndefined();
  });
});
