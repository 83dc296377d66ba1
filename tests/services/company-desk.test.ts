/** The desk on the database: what a change does to what stands, to the record, and to the changes after it. */
import { describe, expect, it, vi } from "vitest";
import { present } from "../../src/domain/result.js";
import { parseInstant, type Minute } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import type { HoldInput } from "../../src/services/desk.js";
import { listChanges } from "../../src/store/record-store.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";

const ZONE = "America/New_York";
const EVENING = at("2026-12-07T18:00");
const WET_DAY: HoldInput = {
  from: "2026-12-08T00:00",
  to: "2026-12-09T00:00",
  trades: "outdoor",
  jobs: "all",
  why: "rain",
};
const ONE_HOUSE = aCompany({
  jobs: [aJob({ tasks: [aTask({ id: "t1", trade: "siding", laborHours: 6 })] })],
});

const desks = useDesks({ clock: () => EVENING, now: () => new Date("2026-12-07T23:00:00Z") });

describe("a desk without a company", () => {
  it("is empty, and no change can be made there", async () => {
    const desk = await desks.open();
    expect(desk.isEmpty).toBe(true);
    expect(await addHold(desk)).toMatchObject({ ok: false, error: { refusal: { kind: "no-company" } } });
  });

  it("takes a company file, or tells every fault of it and stays empty", async () => {
    const desk = await desks.open();
    const broken = { ...ONE_HOUSE, crews: [], extra: 1 };
    const loaded = await desk.load(broken, ROBIN, "");
    expect(loaded.ok ? [] : loaded.error.map(({ path }) => path)).toContain("extra");
    expect(desk.isEmpty).toBe(true);
    expect(await desk.load(ONE_HOUSE, ROBIN, "")).toEqual({ ok: true, value: undefined });
    expect(desk.current()).toMatchObject({ version: 1, today: "2026-12-07" });
  });
});

describe("a hold that is added", () => {
  it("moves the work that it covers, and is there for whoever opens the company next", async () => {
    const desk = await desks.open(ONE_HOUSE);
    expect(startOfT1(desk)).toMatch(/^2026-12-08T/);
    expect(await addHold(desk)).toEqual({ ok: true, value: undefined });
    expect(startOfT1(desk)).toMatch(/^2026-12-09T/);
    const other = await desks.open();
    expect(other.current().source["holds"]).toEqual([{ id: "hold-1", ...WET_DAY, source: "hand" }]);
    expect(other.current().plan).toEqual(desk.current().plan);
  });

  it("is on record with who, when, what and why", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await desk.make({ kind: "hold-added", input: WET_DAY, why: "the forecast" }, CASEY);
    const [newest] = await listChanges(await desks.database(), { limit: 1 });
    expect(newest).toMatchObject({
      version: 2,
      personName: "Casey",
      madeAt: new Date("2026-12-07T23:00:00Z"),
      kind: "hold-added",
      why: "the forecast",
      before: { "hold/hold-1": null },
      after: { "hold/hold-1": { body: { id: "hold-1", why: "rain" } } },
    });
  });

  it("that ends before it starts is refused, with company and record as they were", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const before = desk.current();
    const added = await addHold(desk, { to: "2026-12-07T00:00" });
    expect(added).toMatchObject({ ok: false, error: { kind: "faults", faults: [{ path: "holds[0].to" }] } });
    expect(desk.current()).toEqual({ ...before, versionOf: expect.any(Function) as unknown });
    expect(await listChanges(await desks.database(), { limit: 5 })).toHaveLength(1);
  });
});

describe("a hold that is lifted", () => {
  it("is gone, and the work comes back to where it was", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await addHold(desk);
    const seen = desk.current().versionOf("hold/hold-1");
    expect(await desk.make({ kind: "hold-lifted", id: "hold-1", seen }, ROBIN)).toMatchObject({ ok: true });
    expect(startOfT1(desk)).toMatch(/^2026-12-08T/);
    expect(desk.current().company.holds).toEqual([]);
  });

  it("that does not exist is refused by name", async () => {
    const desk = await desks.open(ONE_HOUSE);
    expect(await desk.make({ kind: "hold-lifted", id: "hold-9" }, ROBIN)).toEqual({
      ok: false,
      error: {
        kind: "refused",
        refusal: {
          kind: "no-such-hold",
          sentence: 'There is no hold "hold-9". It may have been lifted already; look at the list of holds.',
        },
      },
    });
  });

  it("by somebody who has not seen the last change of it is refused, and told who made that", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await addHold(desk);
    const seen = desk.current().versionOf("hold/hold-1");
    await desk.make({ kind: "hold-lifted", id: "hold-1", seen }, CASEY);
    await desk.undo(desk.current().version, ROBIN, "");
    const lifted = await desk.make({ kind: "hold-lifted", id: "hold-1", seen }, ROBIN);
    expect(lifted).toMatchObject({
      ok: false,
      error: { kind: "stale", since: [{ personName: "Casey" }, { personName: "Robin" }] },
    });
    expect(desk.current().company.holds).toHaveLength(1);
  });
});

describe("a change that is taken back", () => {
  it("leaves the very company that was there before, and both are on record", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const { source } = desk.current();
    await addHold(desk);
    expect(await desk.undo(2, CASEY, "it stays dry")).toEqual({ ok: true, value: undefined });
    expect(desk.current().source).toEqual(source);
    const changes = await listChanges(await desks.database(), { limit: 5 });
    expect(changes.map(({ version, undoes, undoneBy }) => ({ version, undoes, undoneBy }))).toEqual([
      { version: 3, undoes: 2, undoneBy: null },
      { version: 2, undoes: null, undoneBy: 3 },
      { version: 1, undoes: null, undoneBy: null },
    ]);
  });

  it("is not taken back twice", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await addHold(desk);
    await desk.undo(2, ROBIN, "");
    expect(await desk.undo(2, ROBIN, "")).toMatchObject({ error: { refusal: { kind: "already-undone" } } });
  });

  it("may itself be taken back", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await addHold(desk);
    await desk.undo(2, ROBIN, "");
    await desk.undo(3, ROBIN, "");
    expect(desk.current().company.holds).toHaveLength(1);
  });

  it("stays where something later has written the same", async () => {
    const desk = await desks.open(ONE_HOUSE);
    await addHold(desk);
    await desk.make({ kind: "hold-lifted", id: "hold-1" }, CASEY);
    const undone = await desk.undo(2, ROBIN, "");
    expect(undone).toMatchObject({ ok: false, error: { refusal: { kind: "depended-on" } } });
    expect(JSON.stringify(undone)).toContain("by Casey: Hold lifted");
    await desk.undo(3, CASEY, "");
    expect(await desk.undo(2, ROBIN, "")).toMatchObject({ ok: true });
  });

  it("stays where the company would be at fault without it", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const job = aJob({ id: "second", tasks: [] });
    await desk.load({ ...ONE_HOUSE, jobs: [...(ONE_HOUSE.jobs ?? []), job] }, ROBIN, "");
    await addHold(desk, { jobs: ["second"] });
    const undone = await desk.undo(2, ROBIN, "");
    expect(undone).toMatchObject({ ok: false, error: { refusal: { kind: "depended-on" } } });
    expect(JSON.stringify(undone)).toContain("second");
  });

  it.each([
    [1, "first-load"],
    [9, "no-such-change"],
  ])("%i is refused as %s", async (version, kind) => {
    const desk = await desks.open(ONE_HOUSE);
    expect(await desk.undo(version, ROBIN, "")).toMatchObject({ error: { refusal: { kind } } });
  });
});

describe("changes asked for at the same time", () => {
  it("are made one after another, none is lost, and every hold has an id of its own", async () => {
    const two = [await desks.open(ONE_HOUSE), await desks.open()];
    const whys = ["one", "two", "three", "four", "five", "six"];
    await Promise.all(whys.map((why, index) => addHold(present(two[index % 2], "a desk"), { why })));
    const { holds } = (await desks.open()).current().company;
    expect(holds.map((hold) => hold.why).toSorted()).toEqual(whys.toSorted());
    expect(new Set(holds.map((hold) => hold.id)).size).toBe(whys.length);
  });

  it("go on after one that failed", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const [bad, good] = await Promise.all([addHold(desk, { trades: ["no-such-trade"] }), addHold(desk)]);
    expect([bad.ok, good.ok]).toEqual([false, true]);
    expect(desk.current().company.holds).toHaveLength(1);
  });
});

describe("a change made by another process", () => {
  it("is heard of, and its plan is taken, not made again", async () => {
    const [mine, theirs] = [await desks.open(ONE_HOUSE), await desks.open()];
    await addHold(mine);
    await vi.waitUntil(() => theirs.current().version === 2);
    expect(theirs.current().planId).toBe(mine.current().planId);
    expect(checkPlan(theirs.current().company, theirs.current().plan)).toEqual([]);
  });

  it("is heard of after the connection to the database was cut", async () => {
    const log: unknown[] = [];
    const mine = await desks.open(ONE_HOUSE);
    const theirs = await desks.open(undefined, { log: (error) => log.push(error) });
    const database = await desks.database();
    await database.query(
      `select pg_terminate_backend(pid) from pg_stat_activity
       where datname = current_database() and query like '%listen%' and pid <> pg_backend_pid()`,
    );
    await addHold(mine);
    await vi.waitUntil(() => theirs.current().version === 2, { timeout: 10_000 });
    expect(theirs.current().company.holds).toHaveLength(1);
  });
});

describe("the desk's day", () => {
  it("is the company's date, not Greenwich's", async () => {
    const desk = await desks.open(ONE_HOUSE, { clock: () => at("2026-12-07T22:00") });
    expect(desk.current().today).toBe("2026-12-07");
  });

  it("is planned anew when the date turns, under the same version", async () => {
    let now: Minute = EVENING;
    const desk = await desks.open(ONE_HOUSE, { clock: () => now });
    now = at("2026-12-08T00:00");
    expect(desk.current()).toMatchObject({ version: 1, today: "2026-12-08", nowMinute: now });
    await vi.waitUntil(() => desk.current().plan.asOf === "2026-12-08T00:00:00-05:00");
    expect(desk.current()).toMatchObject({ version: 1, today: "2026-12-08" });
  });
});

function addHold(desk: OpenDesk, overrides: Partial<HoldInput> = {}) {
  return desk.make({ kind: "hold-added", input: { ...WET_DAY, ...overrides } }, ROBIN);
}

function startOfT1(desk: OpenDesk): string {
  return present(
    desk.current().plan.tasks.find((task) => task.task === "t1"),
    "t1 in the plan",
  ).start;
}

function at(text: string): Minute {
  return present(parseInstant(text, ZONE), `the time ${text}`);
}
