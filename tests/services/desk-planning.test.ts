/** What a desk shows while it plans: always a whole plan of the company that it shows, and a better one when there is one. */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import type { HoldInput } from "../../src/services/desk.js";
import { openFileDesk, type FileDeskOptions, type OpenDesk } from "../../src/services/file-desk.js";
import { isBetterPlan } from "../../src/services/improvement.js";
import { realDisk } from "../../src/store/disk.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { demoCompany, EVENING } from "./demo-company.js";
import { ScriptedWorker, type ScriptedSearch } from "./scripted-worker.js";

const IMPROVING = { iterations: 500 };
const HALF_WAY = { iteration: 250, cost: 90, milliseconds: 1_200 };

let folder: string;
let path: string;
let worker: ScriptedWorker;
const opened: OpenDesk[] = [];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-planning-"));
  path = join(folder, "company.json");
  worker = new ScriptedWorker();
  const tasks = [aTask({ id: "t1", trade: "siding", laborHours: 6 })];
  await writeFile(path, JSON.stringify(aCompany({ jobs: [aJob({ tasks })] })));
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((desk) => desk.close()));
  await rm(folder, { recursive: true, force: true });
});

async function openDesk(options: Partial<FileDeskOptions> = {}): Promise<OpenDesk> {
  const standard = { path, seed: 1, iterations: 0, clock: () => EVENING, improving: IMPROVING, worker };
  const desk = await openFileDesk({ ...standard, ...options });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  opened.push(desk.value);
  return desk.value;
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
    const desk = await openFileDesk({ path, seed: 1, iterations: 0, clock: () => EVENING, worker });
    expect(desk.ok && desk.value.current().planning).toBeNull();
    expect(worker.searches).toEqual([]);
  });

  it("puts a cheaper plan in the place of the one shown, under the same version, and is over", async () => {
    const desk = await openDesk();
    const better = priced(desk.current().plan, -1);
    search(0).find(better);
    await settle();
    expect(desk.current()).toMatchObject({ version: 1, planning: null });
    expect(desk.current().plan).toBe(better);
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
    expect(await desk.addHold(wet(8))).toEqual({ ok: true, value: undefined });
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
    const adding = desk.addHold(wet(8));
    search(0).find(old);
    await adding;
    await settle();
    expect(desk.current().plan).not.toBe(old);
    expect(checkPlan(desk.current().company, desk.current().plan)).toEqual([]);
  });

  it("that cannot be written lets the search begin again", async () => {
    let isFull = true;
    const writeNew: typeof realDisk.writeNew = (...args) =>
      isFull ? Promise.reject(new Error("disk full")) : realDisk.writeNew(...args);
    const desk = await openDesk({ disk: { ...realDisk, writeNew } });
    expect((await desk.addHold(wet(8))).ok).toBe(false);
    expect(search(1).company).toEqual(desk.current().company);
    expect(desk.current()).toMatchObject({ version: 1, planning: { iteration: 0 } });
    isFull = false;
    expect((await desk.addHold(wet(8))).ok).toBe(true);
  });

  it("that is at fault does not stop the search", async () => {
    const desk = await openDesk();
    expect((await desk.addHold({ ...wet(8), trades: ["no-such-trade"] })).ok).toBe(false);
    expect(search(0).options.signal?.aborted).toBe(false);
  });

  it("whose quick plan fails leaves file and desk as they were, and the search begins again", async () => {
    const desk = await openDesk();
    const before = { text: await readFile(path, "utf8"), plan: desk.current().plan };
    worker.failure = new Error("the thread died");
    await expect(desk.addHold(wet(8))).rejects.toThrow("the thread died");
    expect({ text: await readFile(path, "utf8"), plan: desk.current().plan }).toEqual(before);
    expect(worker.searches).toHaveLength(2);
  });

  it("and another one right behind it: both are kept, and the plan is that of the second", async () => {
    const desk = await openDesk();
    const both = await Promise.all([desk.addHold(wet(8)), desk.addHold(wet(9))]);
    expect(both.map((added) => added.ok)).toEqual([true, true]);
    expect(whysOf(desk)).toEqual(["rain on the 8th", "rain on the 9th"]);
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
    const adding = desk.addHold(wet(8));
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
    expect(desk.current().plan).toBe(plan);
    expect(desk.current().planning).not.toBeNull();
    open();
    await vi.waitUntil(() => desk.current().version === 2);
    expect(desk.current().plan.asOf).toBe("2026-12-08T18:00:00-05:00");
    expect(worker.searches.map(({ options }) => options.asOf)).toEqual([EVENING, NEXT_EVENING]);
  });

  it("that could not be planned is tried again for the next reader", async () => {
    let now = EVENING;
    const log: unknown[] = [];
    const desk = await openDesk({ clock: () => now, log: (error) => log.push(error) });
    now = NEXT_EVENING;
    worker.failure = new Error("the thread died");
    desk.current();
    await vi.waitUntil(() => log.length === 1);
    await vi.waitUntil(() => desk.current().version === 2);
    expect(log).toEqual([new Error("the thread died")]);
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
    const adding = desk.addHold(wet(8));
    await desk.close();
    expect((await adding).ok).toBe(true);
    expect(await readFile(path, "utf8")).toContain("rain on the 8th");
    expect(worker.searches).toHaveLength(1);
  });
});

describe("with the worker that is shipped", () => {
  it("counted iterations come to the plan that the planner makes of them", async () => {
    const company = await demoCompany();
    await writeFile(path, JSON.stringify(company));
    const improving = { iterations: 300 };
    const desk = await openFileDesk({ path, seed: 1, iterations: 2, clock: () => EVENING, improving });
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    opened.push(desk.value);
    expect(desk.value.current().plan.iterations).toBe(2);
    await vi.waitUntil(() => desk.value.current().planning === null, { timeout: 30_000 });
    const quick = planCompany(company, { asOf: EVENING, seed: 1, iterations: 2 });
    const best = planCompany(company, { asOf: EVENING, seed: 1, iterations: 300, from: quick });
    expect(best.cost.total).toBeLessThan(quick.cost.total);
    expect(desk.value.current().plan).toEqual(best);
  });

  it("is closed together with a desk that started it, in the middle of a search", async () => {
    await writeFile(path, JSON.stringify(await demoCompany()));
    const desk = await openFileDesk({
      path,
      seed: 1,
      iterations: 1,
      clock: () => EVENING,
      improving: { iterations: 1e9 },
    });
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    await vi.waitUntil(() => (desk.value.current().planning?.iteration ?? 0) > 0);
    await desk.value.close();
    expect(desk.value.current().planning).toBeNull();
    await expect(desk.value.addHold(wet(10))).rejects.toThrow("Planning has ended");
  });
});
