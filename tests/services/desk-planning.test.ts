/** What a desk shows while it plans: always a whole plan of the company that it shows, and a better one when there is one. */
import { beforeEach, describe, expect, it, vi } from "vitest";
import type { Plan } from "../../src/domain/plan-format.js";
import { present, type Result } from "../../src/domain/result.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import type { ChangeFailure } from "../../src/services/changes/company-change.js";
import { openDesk as openOwnDesk, type DeskOptions, type OpenDesk } from "../../src/services/company-desk.js";
import type { HoldInput } from "../../src/services/desk.js";
import { isBetterPlan } from "../../src/services/improvement.js";
import { PlanStore } from "../../src/store/plan-store.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { demoCompany, EVENING } from "./demo-company.js";
import { ScriptedWorker, type ScriptedSearch } from "./scripted-worker.js";

const IMPROVING = { iterations: 500 };
const HALF_WAY = { iteration: 250, cost: 90, milliseconds: 1_200 };
const ONE_HOUSE = aCompany({
  jobs: [aJob({ tasks: [aTask({ id: "t1", trade: "siding", laborHours: 6 })] })],
});

let worker: ScriptedWorker;
beforeEach(() => {
  worker = new ScriptedWorker();
});
const desks = useDesks({ clock: () => EVENING });

function openDesk(options: Partial<DeskOptions> = {}): Promise<OpenDesk> {
  return desks.open(ONE_HOUSE, { improving: IMPROVING, worker, ...options });
}

function addHold(desk: OpenDesk, input: HoldInput): Promise<Result<void, ChangeFailure>> {
  return desk.make({ kind: "hold-added", input }, ROBIN);
}

function search(index: number): ScriptedSearch {
  return present(worker.searches[index], `search ${index}`);
}

/** The same plan at another price. */
function priced(plan: Plan, by: number): Plan {
  return { ...plan, cost: { ...plan.cost, total: plan.cost.total + by } };
}

function wet(day: number): HoldInput {
  const date = (of: number): string => `2026-12-${String(of).padStart(2, "0")}T00:00`;
  return { from: date(day), to: date(day + 1), trades: "outdoor", jobs: "all", why: `rain on the ${day}th` };
}

const whysOf = (desk: OpenDesk): readonly string[] => desk.current().company.holds.map((hold) => hold.why);

/** Lets everything happen that waits for nothing but its turn. */
const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe("the search for a better plan", () => {
  it("goes on behind the quick plan, with the same company, minute, seed and its own budget", async () => {
    const desk = await openDesk({ seed: 9 });
    expect(desk.current()).toMatchObject({ version: 1, planning: { iteration: 0, milliseconds: 0 } });
    expect(search(0).company).toEqual(desk.current().company);
    expect(search(0).options).toMatchObject({ asOf: EVENING, seed: 9, ...IMPROVING });
    search(0).tell(HALF_WAY);
    expect(desk.current().planning).toEqual(HALF_WAY);
  });

  it("does not go on where no budget is given for it", async () => {
    const desk = await desks.open(ONE_HOUSE, { worker });
    expect(desk.current().planning).toBeNull();
    expect(worker.searches).toEqual([]);
  });

  it("puts a cheaper plan in the place of the one shown, under the same version, and is over", async () => {
    const desk = await openDesk();
    const better = priced(desk.current().plan, -1);
    search(0).find(better);
    await vi.waitUntil(() => desk.current().plan.cost.total === better.cost.total);
    expect(desk.current()).toMatchObject({ version: 1, planning: null, plan: better });
  });

  it.each([0, 1])("leaves the plan shown where it finds one that costs %i more", async (more) => {
    const desk = await openDesk();
    const { plan } = desk.current();
    search(0).find(priced(plan, more));
    await settle();
    expect(desk.current().plan).toBe(plan);
    expect(desk.current().planning).toBeNull();
  });

  it("takes the plan that leaves out fewer tasks, whatever they cost", async () => {
    const desk = await openDesk();
    const { plan } = desk.current();
    const cheapAndShort: Plan = {
      ...priced(plan, -50),
      impossible: [{ job: "j", task: "t", why: "No crew." }],
    };
    expect(isBetterPlan(plan, cheapAndShort)).toBe(true);
    search(0).find(cheapAndShort);
    await settle();
    expect(desk.current().plan).toBe(plan);
  });

  it("that fails leaves the plan shown, and its error goes to the log", async () => {
    const log: unknown[] = [];
    const desk = await openDesk({ log: (error) => log.push(error) });
    const { plan } = desk.current();
    const bug = new Error("a bug");
    search(0).fail(bug);
    await settle();
    expect(desk.current()).toMatchObject({ plan, planning: null });
    expect(log).toEqual([bug]);
  });
});

describe("a change while the search goes on", () => {
  it("stops it, shows a quick plan of the new company, and begins another search from there", async () => {
    const desk = await openDesk();
    expect(await addHold(desk, wet(8))).toEqual({ ok: true, value: undefined });
    expect(search(0).options.signal?.aborted).toBe(true);
    const { company, plan, version } = desk.current();
    expect(version).toBe(2);
    expect(checkPlan(company, plan)).toEqual([]);
    expect(worker.searches).toHaveLength(2);
    expect(search(1).company).toEqual(company);
  });

  it("is not undone by what the old search found, however cheap", async () => {
    const desk = await openDesk();
    const old = priced(desk.current().plan, -1e6);
    const adding = addHold(desk, wet(8));
    search(0).find(old);
    await adding;
    await settle();
    expect(desk.current().plan).not.toBe(old);
    expect(checkPlan(desk.current().company, desk.current().plan)).toEqual([]);
  });

  it("that is at fault does not stop the search", async () => {
    const desk = await openDesk();
    expect((await addHold(desk, { ...wet(8), trades: ["no-such-trade"] })).ok).toBe(false);
    expect(search(0).options.signal?.aborted).toBe(false);
  });

  it("whose quick plan fails is kept all the same, and planned for the next reader", async () => {
    const log: unknown[] = [];
    const desk = await openDesk({ log: (error) => log.push(error) });
    const before = desk.current().plan;
    worker.failure = new Error("the thread died");
    await expect(addHold(desk, wet(8))).rejects.toThrow("the thread died");
    expect(desk.current()).toMatchObject({ version: 1, plan: before });
    await vi.waitUntil(() => desk.current().version === 2);
    expect(whysOf(desk)).toEqual(["rain on the 8th"]);
  });

  it("and another one right behind it: both are kept, and the plan is that of the second", async () => {
    const desk = await openDesk();
    const both = await Promise.all([addHold(desk, wet(8)), addHold(desk, wet(9))]);
    expect(both.map((added) => added.ok)).toEqual([true, true]);
    expect(whysOf(desk).toSorted()).toEqual(["rain on the 8th", "rain on the 9th"]);
    const { company, plan, version } = desk.current();
    expect(version).toBe(3);
    expect(checkPlan(company, plan)).toEqual([]);
    expect(plan).toEqual(planCompany(company, { asOf: EVENING, seed: 1, iterations: 0 }));
    const going = worker.searches.filter(({ options }) => options.signal?.aborted === false);
    expect(going.map((one) => one.company)).toEqual([company]);
  });

  it("shows company and plan as they were until both are new", async () => {
    const desk = await openDesk();
    let open: () => void = () => undefined;
    worker.gate = new Promise<void>((resolve) => (open = resolve));
    const adding = addHold(desk, wet(8));
    await settle();
    expect(whysOf(desk)).toEqual([]);
    expect(desk.current().version).toBe(1);
    open();
    await adding;
    expect(whysOf(desk)).toEqual(["rain on the 8th"]);
  });
});

describe("a new date", () => {
  const NEXT_EVENING = EVENING + 24 * 60;

  it("is planned behind the plan shown, which stays until the new one is there", async () => {
    let now = EVENING;
    const desk = await openDesk({ clock: () => now });
    const { plan } = desk.current();
    let open: () => void = () => undefined;
    worker.gate = new Promise<void>((resolve) => (open = resolve));
    now = NEXT_EVENING;
    expect(desk.current()).toMatchObject({ today: "2026-12-08", version: 1 });
    await settle();
    expect(desk.current().plan).toBe(plan);
    open();
    await vi.waitUntil(() => desk.current().plan !== plan);
    expect(desk.current()).toMatchObject({ version: 1, plan: { asOf: "2026-12-08T18:00:00-05:00" } });
    expect(worker.searches.map(({ options }) => options.asOf)).toEqual([EVENING, NEXT_EVENING]);
  });

  it("that could not be planned is tried again for the next reader", async () => {
    let now = EVENING;
    const log: unknown[] = [];
    const desk = await openDesk({ clock: () => now, log: (error) => log.push(error) });
    now = NEXT_EVENING;
    worker.failure = new Error("the thread died");
    desk.current();
    await vi.waitUntil(() => log.length > 0);
    await vi.waitUntil(() => desk.current().plan.asOf === "2026-12-08T18:00:00-05:00");
    // Told once by each who waited for it.
    expect(new Set(log.map(String))).toEqual(new Set(["Error: the thread died"]));
  });
});

describe("a desk that is closed", () => {
  it("stops its search and plans no more, and leaves a worker that is not its own", async () => {
    const desk = await openDesk();
    await desk.close();
    expect(search(0).options.signal?.aborted).toBe(true);
    expect(worker.isClosed).toBe(false);
  });

  it("lets a change end that is under way", async () => {
    const desk = await openDesk();
    const adding = addHold(desk, wet(8));
    await desk.close();
    expect((await adding).ok).toBe(true);
    expect(whysOf(await openDesk())).toEqual(["rain on the 8th"]);
  });
});

describe("with the worker that is shipped", () => {
  it("counted iterations come to the plan that the planner makes of them, and both plans are kept", async () => {
    const company = await demoCompany();
    const improving = { iterations: 300 };
    const desk = await desks.open(company, { iterations: 2, improving });
    expect(desk.current().plan.iterations).toBe(2);
    await vi.waitUntil(() => desk.current().plan.iterations === 300, { timeout: 30_000 });
    const quick = planCompany(company, { asOf: EVENING, seed: 1, iterations: 2 });
    const best = planCompany(company, { asOf: EVENING, seed: 1, iterations: 300, from: quick });
    expect(best.cost.total).toBeLessThan(quick.cost.total);
    expect(desk.current().plan).toEqual(best);
    const [newest, first] = await new PlanStore(await desks.database()).list(5);
    expect(first).toMatchObject({ companyVersion: 1, iterations: 2, fromPlan: null, cost: quick.cost.total });
    expect(newest).toMatchObject({
      companyVersion: 1,
      iterations: 300,
      fromPlan: first?.id,
      cost: best.cost.total,
    });
  });

  it("is closed together with a desk that started it, in the middle of a search", async () => {
    const settings = { seed: 1, iterations: 1, clock: () => EVENING, improving: { iterations: 1e9 } };
    const desk = await openOwnDesk(await desks.database(), settings);
    await desk.load(await demoCompany(), ROBIN, "");
    await vi.waitUntil(() => (desk.current().planning?.iteration ?? 0) > 0);
    await desk.close();
    expect(desk.current().planning).toBeNull();
  });
});
