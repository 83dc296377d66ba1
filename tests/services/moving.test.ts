/** Moves by hand at the desk: everybody sees the plan that was shown, it can be made again, and it outlives the process. */
import { expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { makeFixedClock } from "../../src/services/clock.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { replayPlan } from "../../src/services/replay.js";
import { PlanStore } from "../../src/store/plan-store.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { AFTERNOON } from "../web/editing.js";
import { MOVING_COMPANY } from "../web/moving-company.js";

const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });

const MONDAY = {
  job: "cove-3",
  task: "back",
  crew: "birch",
  date: civilDate("2026-12-07"),
  place: { kind: "first" },
} as const;

async function move(desk: OpenDesk): Promise<void> {
  const shown = await desk.planMove(MONDAY);
  if (!shown.ok) throw new Error(JSON.stringify(shown.error));
  const moved = await desk.move(MONDAY, shown.value.token, ROBIN, "");
  if (!moved.ok) throw new Error(JSON.stringify(moved.error));
}

it("another desk of the company, and one that is opened later, have the plan of the move", async () => {
  const desk = await desks.open(MOVING_COMPANY);
  const other = await desks.open();
  await move(desk);
  const { plan, version } = desk.current();
  await expect.poll(() => other.current().version, { timeout: 20_000 }).toBe(version);
  expect(other.current().plan).toEqual(plan);
  expect((await desks.open()).current().plan).toEqual(plan);
});

it("whoever listens hears of a move once it stands, and of its undo", async () => {
  const desk = await desks.open(MOVING_COMPANY);
  const heard: number[] = [];
  const end = desk.onChange(() => heard.push(desk.current().version));
  const { version } = desk.current();
  await move(desk);
  expect((await desk.undo(version + 1, ROBIN, "")).ok).toBe(true);
  expect(heard).toEqual([version + 1, version + 2]);
  end();
  await move(desk);
  expect(heard).toHaveLength(2);
});

it("a listener that throws keeps nobody else from hearing, and its bug is told", async () => {
  const bugs: unknown[] = [];
  const desk = await desks.open(MOVING_COMPANY, { log: (error) => bugs.push(error) });
  let heard = 0;
  desk.onChange(() => {
    throw new Error("deaf");
  });
  desk.onChange(() => (heard += 1));
  await move(desk);
  expect(heard).toBe(1);
  expect(bugs).toEqual([new Error("deaf")]);
});

it("a plan in which work was moved, and the one that an undo brought back, are made again to the byte", async () => {
  const desk = await desks.open(MOVING_COMPANY);
  await move(desk);
  await desk.undo(desk.current().version, ROBIN, "");
  await move(desk);
  const database = await desks.database();
  const plans = await new PlanStore(database).list(10);
  expect(plans).toHaveLength(4);
  for (const { id } of plans) {
    const replayed = await replayPlan(database, id);
    expect(present(replayed.ok ? replayed.value : undefined, `plan ${id} made again`).isEqual).toBe(true);
  }
});

it("two moves that were shown of one plan: the second one is told what the first one changed", async () => {
  const desk = await desks.open(MOVING_COMPANY);
  const [first, second] = [await desk.planMove(MONDAY), await desk.planMove({ ...MONDAY, crew: "alder" })];
  if (!first.ok || !second.ok) throw new Error("both can be");
  expect((await desk.move(MONDAY, first.value.token, ROBIN, "")).ok).toBe(true);
  const late = await desk.move({ ...MONDAY, crew: "alder" }, second.value.token, ROBIN, "");
  expect(late.ok ? [] : late.error).toMatchObject({
    kind: "stale",
    since: [
      {
        personName: "Robin",
        sentence: "Side the back at 3 Cove Street moved from Alder, Fri 4 Dec to Birch, Mon 7 Dec.",
      },
    ],
  });
});
