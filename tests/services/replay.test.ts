/** Kept plans can be made again, to the byte. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { makeFixedClock } from "../../src/services/clock.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import type { PlanningBudget } from "../../src/services/planning-messages.js";
import { openRecord, type KeptPlanOrigin } from "../../src/services/record.js";
import { replayPlan } from "../../src/services/replay.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { EVENING } from "./demo-company.js";

describe("a kept plan", () => {
  const desks = useDesks({ clock: makeFixedClock(EVENING), seed: 7, iterations: 8 });
  const openDemo = async (improving?: PlanningBudget): Promise<OpenDesk> =>
    desks.open(layDemo(await readDemoTemplate(), civilDate("2026-12-07")), improving && { improving });
  const plans = async (): Promise<readonly KeptPlanOrigin[]> =>
    (await openRecord(await desks.database()).listPlans(50)).toReversed();

  /** Of each kept plan: whether it came out the same. */
  async function replayAll(): Promise<readonly boolean[]> {
    const equal: boolean[] = [];
    for (const { id } of await plans()) {
      const replayed = await replayPlan(await desks.database(), id);
      if (!replayed.ok) throw new Error(replayed.error);
      expect(replayed.value.isSamePlanner).toBe(true);
      equal.push(replayed.value.isEqual);
    }
    return equal;
  }

  /** Waits for a better plan than the quick one. */
  async function waitForSearch(desk: OpenDesk): Promise<void> {
    await expect.poll(() => desk.current().planning, { timeout: 30_000 }).toBe(null);
    await desk.close();
  }

  it("that was made quickly is made again, also after the company has changed", async () => {
    const desk = await openDemo();
    for (const promised of ["2026-12-21", "2026-12-18"]) {
      const job = present(desk.current().company.jobs[0], "a house").id;
      expect((await desk.make({ kind: "promise-moved", job, promised }, ROBIN)).ok).toBe(true);
    }
    expect(await replayAll()).toEqual([true, true, true]);
    expect((await plans()).map(({ fromPlan }) => fromPlan !== null)).toEqual([false, true, true]);
  });

  it("that was improved by count is made again", async () => {
    await waitForSearch(await openDemo({ iterations: 120 }));
    expect(await replayAll()).toEqual([true, true]);
  });

  it("that was improved until time was up is made again without a clock", async () => {
    await waitForSearch(await openDemo({ milliseconds: 700 }));
    expect((await plans()).map(({ budget }) => budget)).toEqual([8, null]);
    expect(await replayAll()).toEqual([true, true]);
  });

  it("that was stopped by a change is made again", async () => {
    const desk = await openDemo({ milliseconds: 20_000 });
    await expect.poll(() => desk.current().planning?.iteration ?? 0, { timeout: 30_000 }).toBeGreaterThan(60);
    const job = present(desk.current().company.jobs[0], "a house").id;
    await desk.make({ kind: "promise-moved", job, promised: null }, ROBIN);
    await desk.close();
    // The first plan and the one of the change; between them what the search had found, if it had found anything better.
    const equal = await replayAll();
    expect(equal.length).toBeGreaterThanOrEqual(2);
    expect(equal.every(Boolean)).toBe(true);
  });

  it("is told from one that has been tampered with", async () => {
    await openDemo();
    const database = await desks.database();
    await database.query("update plan set body = replace(body, 'T', ' ')");
    expect(await replayAll()).toEqual([false]);
  });

  it("that was never made is not replayed", async () => {
    await openDemo();
    expect(await replayPlan(await desks.database(), 99)).toEqual({
      ok: false,
      error: "There is no plan 99 on record.",
    });
  });
});
