/** What the pages say while a better plan is looked for, and that they wait for none. */
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Plan } from "../../src/domain/plan-format.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import type { DeskState } from "../../src/services/desk.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { demoCompany, EVENING } from "../services/demo-company.js";
import { useDesks } from "../support/desk.js";
import { makeFakeDesk } from "./fake-desk.js";
import { startApp, type RunningApp } from "./running-app.js";

const GOING = { iteration: 1_240, cost: 0, milliseconds: 2_000 };

const WITHIN_A_MINUTE = { timeout: 60_000 };
const desks = useDesks();

let app: RunningApp | undefined;
afterEach(async () => {
  await app?.close();
  app = undefined;
});

/** The app on a desk that is in the state that these two give. */
async function startWith(
  planning: () => DeskState["planning"],
  plan: () => Plan = () => decemberPlan(),
): Promise<RunningApp> {
  const nowMinute = minuteAt(civilDate("2026-12-07"), "15:10", "America/New_York");
  app = await startApp(makeFakeDesk({ company: decemberCompany(), nowMinute, plan, planning }));
  return app;
}

const boardOf = async (running: RunningApp): Promise<string> => (await running.get("/")).text();
const statusOf = async (running: RunningApp): Promise<unknown> => (await running.get("/planning")).json();

describe("the board", () => {
  it("says quietly how far the search is, with a link that shows the board again", async () => {
    const page = await boardOf(await startWith(() => GOING));
    expect(page).toMatch(/class="planning-line">Improving the plan… 1,240 tries, cost [\d,]+ → 0</);
    expect(page).toContain('<a href="">Look again</a>');
  });

  it("says nothing of it where no search goes on", async () => {
    const page = await boardOf(await startWith(() => null));
    expect(page).not.toContain("planning");
  });

  it("never loads itself anew under its reader", async () => {
    const response = await (await startWith(() => GOING)).get("/");
    expect(response.headers.get("refresh")).toBeNull();
    expect(await response.text()).not.toMatch(/http-equiv/i);
  });
});

describe("the state of the search", () => {
  it("is its line while it goes on, and none afterwards, under the stamp of the board", async () => {
    let planning: DeskState["planning"] = GOING;
    const running = await startWith(() => planning);
    const stamp = /data-stamp="([^"]+)"/.exec(await boardOf(running))?.[1];
    expect(await statusOf(running)).toEqual({ stamp, line: expect.stringContaining("1,240 tries") });
    planning = null;
    expect(await statusOf(running)).toEqual({ stamp, line: null });
  });

  it("has another stamp when another plan is shown", async () => {
    let plan = decemberPlan();
    const running = await startWith(
      () => null,
      () => plan,
    );
    const before = await statusOf(running);
    plan = { ...plan, cost: { ...plan.cost, total: plan.cost.total - 1 } };
    expect(await statusOf(running)).not.toEqual(before);
  });

  it("is never kept by a browser", async () => {
    const { headers } = await (await startWith(() => GOING)).get("/planning");
    expect(headers.get("cache-control")).toBe("no-store");
  });
});

it("every page is answered while a search goes on that ends only when it is stopped, and so is a change", async () => {
  const desk = await desks.open(await demoCompany(), {
    iterations: 1,
    clock: () => EVENING,
    improving: { iterations: 1e9 },
  });
  app = await startApp(desk);
  const isGoing = (): boolean => (desk.current().planning?.iteration ?? 0) > 0;
  await vi.waitUntil(isGoing, WITHIN_A_MINUTE);
  for (const page of ["/", "/waiting", "/jobs", "/holds", "/crew/birch", "/planning", "/healthz"]) {
    expect((await app.get(page)).status).toBe(200);
  }
  expect(isGoing()).toBe(true);
  const hold = {
    from: "2026-12-08T00:00",
    to: "2026-12-09T00:00",
    trades: "outdoor",
    jobs: "all",
    why: "sleet",
  };
  expect((await app.post("/holds", hold)).status).toBe(303);
  expect(await boardOf(app)).toContain("sleet");
  await vi.waitUntil(isGoing, WITHIN_A_MINUTE);
});
