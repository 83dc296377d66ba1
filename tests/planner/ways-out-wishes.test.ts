/** Ways out made by hand: each kind of wish kept, and refused by what forbids it. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planWish, type WishedWay } from "../../src/planner/ways-out.js";
import type { Permissions } from "../../src/planner/ways-out/way-out.js";
import type { Wish } from "../../src/planner/ways-out/wishes.js";
import { aCompany, aCrew, aJob, aTask, aWait, parsed } from "../support/company-builder.js";
import { minuteOf, planned, TUESDAY, workOf } from "./planned.js";

const TUE = civilDate("2027-03-16");
const WED = civilDate("2027-03-17");

const birch = aCrew({ id: "birch", name: "Birch", lead: "Ansel" });
const ELM = { id: "elm-3", name: "3 Elm Court", site: { lat: 43.64, lon: -70.27 } };

/** Alder at Spruce Lane, then at Elm Court; Birch, where it is there, at Elm Court. A day at each. */
function twoHouses(edits: Partial<CompanyInput> = {}): CompanyInput {
  return aCompany({
    policy: { freezeDays: 0 },
    jobs: [
      aJob({ promised: "2027-03-16", tasks: [aTask({ id: "spruce", laborHours: 20 })] }),
      aJob({ ...ELM, promised: "2027-03-17", tasks: [aTask({ id: "elm", laborHours: 20 })] }),
    ],
    ...edits,
  });
}

const withTasks = (
  spruce: ReturnType<typeof aTask>[],
  elm: ReturnType<typeof aTask>[],
  more = {},
): CompanyInput => twoHouses({ jobs: [aJob({ tasks: spruce }), aJob({ ...ELM, tasks: elm })], ...more });

function made(input: CompanyInput, wishes: readonly Wish[], permissions: Partial<Permissions> = {}) {
  const company = parsed(input);
  return planWish(company, wishes, {
    asOf: minuteOf(company, TUESDAY),
    seed: 1,
    iterations: 20,
    standing: planned({ ...input, published: null }),
    permissions: { resequence: false, lend: false, stretch: [], saturday: [], ...permissions },
  });
}

function kept(
  input: CompanyInput,
  wishes: readonly Wish[],
  permissions: Partial<Permissions> = {},
): WishedWay {
  const result = made(input, wishes, permissions);
  const wished = result.ok ? result.value : undefined;
  expect(result).toMatchObject({ ok: true });
  const { way } = present(wished, "a way with the wish kept");
  expect(checkPlan(way.company, way.explain()).map(formatBroken)).toEqual([]);
  return present(wished, "a way with the wish kept");
}

function refused(input: CompanyInput, ...wishes: readonly Wish[]): string {
  const result = made(input, wishes);
  return result.ok ? "kept" : result.error.sentence;
}

const work = ({ way }: WishedWay, task: string): string => workOf(way.explain(), task)[0] ?? "nobody";

describe("a task pinned to a crew", () => {
  const pin: Wish = { kind: "pin-crew", job: "elm-3", task: "elm", crew: "alder" };

  it("is worked by it, in its turn, and the company names the crew", () => {
    const wished = kept(twoHouses({ crews: [aCrew(), birch] }), [
      { kind: "pin-crew", job: "spruce-14", task: "spruce", crew: "birch" },
    ]);
    expect(work(wished, "spruce")).toMatch(/^birch /);
    expect(wished.way.edits).toEqual([
      { kind: "name-crew", job: "spruce-14", task: "spruce", crew: "birch" },
    ]);
    expect(wished.way.key).toBe("wish+hold");
  });

  it("costs what the way with it costs more than the way without", () => {
    const { way, without, costs } = kept(twoHouses({ crews: [aCrew(), birch] }), [
      { kind: "pin-crew", job: "spruce-14", task: "spruce", crew: "birch" },
    ]);
    expect(without.figures.lateDays).toBe(0);
    expect(costs.cost).toBeCloseTo(way.figures.cost - without.figures.cost, 6);
    expect(costs.tasksMoved).toBe(way.figures.tasksMoved);
  });

  it("is refused where the crew does not do the trade, is too small, or another has begun it", () => {
    const mason = aCrew({ trades: { stone: 1 } });
    expect(refused(twoHouses({ crews: [mason, birch] }), pin)).toBe(
      'Alder does not do Siding, the trade of "Side the front" at 3 Elm Court.',
    );
    const big = [aTask({ id: "elm", minCrew: 4 })];
    const crews = [aCrew(), { ...birch, size: 5 }];
    expect(refused(withTasks([], big, { crews }), pin)).toBe(
      '"Side the front" at 3 Elm Court needs 4 people; Alder has 3.',
    );
    const begun = [aTask({ id: "elm", status: "under-way", doneBy: "birch" })];
    expect(refused(withTasks([], begun, { crews: [aCrew(), birch] }), pin)).toBe(
      'Birch has begun "Side the front" at 3 Elm Court: what is begun stays with its crew.',
    );
  });

  it("takes the whole open wall with it, which one crew closes by dark, or is refused by it", () => {
    const strip = aTask({
      id: "strip",
      trade: "tear-off",
      title: "Strip",
      area: "front",
      laborHours: 6,
      opens: true,
    });
    const wrap = aTask({
      id: "wrap",
      trade: "wrb",
      title: "Wrap",
      area: "front",
      laborHours: 6,
      closes: true,
      after: [{ task: "strip" }],
    });
    const input = withTasks([strip, wrap], [], { crews: [aCrew(), birch] });
    const pinned: Wish = { kind: "pin-crew", job: "spruce-14", task: "wrap", crew: "birch" };
    expect(work(kept(input, [pinned]), "strip")).toMatch(/^birch /);
    const noStrip = { ...birch, trades: { wrb: 1, siding: 1 } };
    expect(refused({ ...input, crews: [aCrew(), noStrip] }, pinned)).toBe(
      'Birch does not do Tear-off, the trade of "Strip" at 14 Spruce Lane, which belongs to the same open wall as "Wrap" at 14 Spruce Lane.',
    );
  });

  it("is refused for what is not there, is done, or takes no crew", () => {
    const input = withTasks([aTask({ id: "spruce", status: "done" }), aWait({ id: "look" })], []);
    const pinned = (task: string): Wish => ({ kind: "pin-crew", job: "spruce-14", task, crew: "alder" });
    expect(refused(input, pinned("t99"))).toBe('There is no task "t99" at a house "spruce-14".');
    expect(refused(input, pinned("spruce"))).toBe('"Side the front" at 14 Spruce Lane is done.');
    expect(refused(input, pinned("look"))).toBe(
      '"Framing inspection" at 14 Spruce Lane takes no crew: it ends by itself.',
    );
    expect(refused(twoHouses(), { ...pin, crew: "willow" })).toBe('There is no crew "willow".');
  });
});

describe("a task pinned to a day", () => {
  const pin = (task: string, date = TUE): Wish => ({
    kind: "pin-day",
    job: task === "elm" ? "elm-3" : "spruce-14",
    task,
    date,
  });

  it("starts first thing on that day, and what its crew had before it waits", () => {
    const wished = kept(twoHouses(), [pin("elm")]);
    expect(work(wished, "elm")).toBe("alder Tue 16 Mar 07:20-12:00");
    expect(work(wished, "spruce")).toBe("alder Wed 17 Mar 07:20-12:00");
    expect(wished.costs.lateDays).toBe(1);
  });

  it("does not start before that day", () => {
    const wished = kept(twoHouses(), [pin("spruce", WED)]);
    expect(work(wished, "spruce")).toBe("alder Wed 17 Mar 07:20-12:00");
    expect(wished.way.edits).toEqual([{ kind: "not-before", job: "spruce-14", task: "spruce", date: WED }]);
  });

  it("brings what must be done before it forward", () => {
    const input = withTasks(
      [
        aTask({ id: "first", laborHours: 3 }),
        aTask({ id: "spruce", laborHours: 3, after: [{ task: "first" }] }),
      ],
      [aTask({ id: "elm", laborHours: 40 })],
      { jobs: undefined },
    );
    const jobs = withTasks(
      [
        aTask({ id: "first", laborHours: 3 }),
        aTask({ id: "spruce", laborHours: 3, after: [{ task: "first" }] }),
      ],
      [aTask({ id: "elm", laborHours: 40 })],
    ).jobs?.toReversed();
    const wished = kept({ ...input, jobs: jobs ?? [] }, [pin("spruce")]);
    expect(work(wished, "first")).toBe("alder Tue 16 Mar 07:20-08:20");
    expect(work(wished, "spruce")).toBe("alder Tue 16 Mar 08:20-09:20");
  });

  it("is refused by what holds the task back, in the words of the plan", () => {
    const deliveries = [{ id: "d1", what: "siding", expected: "2027-03-17" }];
    const input = twoHouses({
      jobs: [aJob({ deliveries, tasks: [aTask({ id: "spruce", title: "Side", needs: ["d1"] })] })],
    });
    expect(refused(input, pin("spruce", WED))).toBe(
      '"Side" at 14 Spruce Lane cannot start then. Waits for delivery: siding, usable from Thu 18 Mar.',
    );
  });

  it("is refused on a day that has gone by, before a date that somebody has set, and once it is begun", () => {
    expect(refused(twoHouses(), pin("elm", civilDate("2027-03-12")))).toBe("Friday 12 March has gone by.");
    const gated = withTasks([aTask({ id: "spruce", notBefore: "2027-03-18" })], []);
    expect(refused(gated, pin("spruce", WED))).toBe(
      '"Side the front" at 14 Spruce Lane may not start before Thursday 18 March.',
    );
    const begun = withTasks([aTask({ id: "spruce", status: "under-way", doneBy: "alder" })], []);
    expect(refused(begun, pin("spruce", WED))).toBe(
      '"Side the front" at 14 Spruce Lane is under way: it is not begun again.',
    );
  });

  it("is refused on a day on which its crew does not work", () => {
    expect(refused(twoHouses(), pin("elm", civilDate("2027-03-20")))).toMatch(
      /^"Side the front" at 3 Elm Court cannot start then\. /,
    );
  });
});

describe("two crews that change places for a day", () => {
  const swap: Wish = { kind: "swap-crews", crews: ["alder", "birch"], date: TUE };

  it("work each what the other would have begun that day", () => {
    const input = twoHouses({ crews: [aCrew(), birch] });
    const before = planned(input);
    const wished = kept(input, [swap]);
    for (const task of ["spruce", "elm"]) {
      const [then] = workOf(before, task);
      const other = then?.startsWith("alder") ? "birch" : "alder";
      expect(work(wished, task)).toBe(`${other} Tue 16 Mar 07:20-12:00`);
    }
  });

  it("are refused where one has begun its work, lacks a trade, or neither has anything to do", () => {
    const begun = withTasks([aTask({ id: "spruce", status: "under-way", doneBy: "alder" })], [], {
      crews: [aCrew(), birch],
    });
    expect(refused(begun, swap)).toBe(
      'Alder has begun "Side the front" at 14 Spruce Lane by then: what is begun stays with its crew.',
    );
    const mason = { ...birch, trades: { stone: 1 } };
    expect(refused(twoHouses({ crews: [aCrew(), mason] }), swap)).toBe(
      'Birch does not do Siding, the trade of "Side the front" at 14 Spruce Lane.',
    );
    expect(refused(twoHouses({ crews: [aCrew(), birch] }), { ...swap, date: civilDate("2027-03-22") })).toBe(
      "Neither Alder nor Birch has anything to do on Monday 22 March.",
    );
    expect(refused(twoHouses(), { ...swap, crews: ["alder", "alder"] })).toBe(
      "Alder cannot change places with itself.",
    );
  });
});

describe("a crew that is kept where it is", () => {
  const keep: Wish = { kind: "keep-crew", crew: "alder" };
  /** Begun at Spruce Lane, where a second task cures first: meanwhile there is a day's work at Elm Court. */
  const comingBack = withTasks(
    [
      aTask({ id: "first", laborHours: 20, status: "under-way", doneBy: "alder" }),
      aTask({ id: "back", laborHours: 6, after: [{ task: "first", lagHours: 24 }] }),
    ],
    [aTask({ id: "elm", laborHours: 18 })],
  );

  it("begins nothing at another house before all its tasks there are begun", () => {
    expect(workOf(planned(comingBack), "elm")[0]).toBe("alder Wed 17 Mar 07:20-12:00");
    const wished = kept(comingBack, [keep]);
    expect(work(wished, "back")).toBe("alder Wed 17 Mar 14:30-15:00");
    expect(work(wished, "elm").slice(0, 16)).toBe("alder Thu 18 Mar");
  });

  it("is refused where it has begun something at another house, or has nothing to do", () => {
    const begun = withTasks(
      [aTask({ id: "spruce", status: "under-way", doneBy: "alder" })],
      [aTask({ id: "elm", status: "under-way", doneBy: "alder" })],
    );
    expect(refused(begun, keep)).toBe(
      'Alder has begun "Side the front" at 3 Elm Court, which comes before everything else.',
    );
    expect(refused(withTasks([], []), keep)).toBe("Alder is at no house: it has nothing to do.");
  });
});

describe("several wishes", () => {
  it("are kept together: a task with a crew on a day", () => {
    const wished = kept(twoHouses({ crews: [aCrew(), birch] }), [
      { kind: "pin-crew", job: "spruce-14", task: "spruce", crew: "birch" },
      { kind: "pin-day", job: "spruce-14", task: "spruce", date: WED },
    ]);
    expect(work(wished, "spruce")).toBe("birch Wed 17 Mar 07:20-12:00");
  });

  it("are refused by the first that cannot be kept with the ones before it", () => {
    const result = made(twoHouses(), [
      { kind: "pin-day", job: "elm-3", task: "elm", date: TUE },
      { kind: "pin-day", job: "spruce-14", task: "spruce", date: TUE },
    ]);
    expect(result).toMatchObject({ ok: false, error: { wish: { task: "elm" } } });
  });

  it("are filled in by the planner as far as it is permitted", () => {
    const wish: Wish = { kind: "pin-crew", job: "elm-3", task: "elm", crew: "alder" };
    const input = twoHouses({ crews: [aCrew(), birch] });
    const held = kept(input, [wish, { kind: "pin-day", job: "elm-3", task: "elm", date: TUE }]);
    const lent = kept(input, [wish, { kind: "pin-day", job: "elm-3", task: "elm", date: TUE }], {
      lend: true,
    });
    expect(work(lent, "elm")).toBe("alder Tue 16 Mar 07:20-12:00");
    expect(lent.way.figures.cost).toBeLessThanOrEqual(held.way.figures.cost);
  });
});

describe("a wish for what is published inside the freeze", () => {
  it("releases it: a person says so", () => {
    const input = { ...twoHouses({ crews: [aCrew(), birch] }), policy: { freezeDays: 2 } };
    const { blocks } = planned(input);
    const from = present(
      blocks.find(({ task }) => task === "spruce"),
      "its block",
    ).crew;
    const crew = from === "alder" ? "birch" : "alder";
    const wished = kept({ ...input, published: blocks }, [
      { kind: "pin-crew", job: "spruce-14", task: "spruce", crew },
    ]);
    expect(work(wished, "spruce")).toMatch(new RegExp(`^${crew} `));
    expect(wished.way.edits).toContainEqual({ kind: "release", job: "spruce-14", task: "spruce" });
    expect(wished.way.explain().unkept).toEqual([]);
  });
});
