/** Planning in another thread: the same plans, stops that are answered, threads that may die, and a quiet end. */
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import type { Company } from "../../src/domain/company-schema.js";
import { planSchema, type Plan } from "../../src/domain/plan-format.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import { PlanningStopped } from "../../src/services/pending-plan.js";
import type { PlanningProgress } from "../../src/services/planning-messages.js";
import {
  startPlanningWorker,
  type PlanningWorker,
  type PlanningWorkerOptions,
} from "../../src/services/planning-worker.js";
import { demoCompany, EVENING } from "./demo-company.js";

const FOR_EVER = { asOf: EVENING, seed: 1, iterations: 1e9 };
const QUICK = { asOf: EVENING, seed: 1, iterations: 2 };

let company: Company;
beforeAll(async () => {
  company = await demoCompany();
});

const started: PlanningWorker[] = [];
afterEach(async () => {
  await Promise.all(started.splice(0).map((worker) => worker.close()));
});

function start(options: PlanningWorkerOptions = {}): PlanningWorker {
  const worker = startPlanningWorker(options);
  started.push(worker);
  return worker;
}

interface LongRun {
  readonly plan: Promise<Plan>;
  readonly told: readonly PlanningProgress[];
  readonly stop: () => void;
}

/** A run that only a stop ends, as soon as it has told that there is a plan. */
async function startLongRun(worker: PlanningWorker): Promise<LongRun> {
  const stop = new AbortController();
  const told: PlanningProgress[] = [];
  let plan: Promise<Plan> | undefined;
  await new Promise<void>((resolve, reject) => {
    plan = worker.plan(company, {
      ...FOR_EVER,
      signal: stop.signal,
      onProgress: (progress) => {
        told.push(progress);
        resolve();
      },
    });
    plan.catch(reject);
  });
  if (plan === undefined) throw new Error("the run has begun");
  return { plan, told, stop: () => stop.abort() };
}

describe("a plan from the worker", () => {
  it.each([
    [1, 1],
    [7, 30],
  ])("is to the byte the plan of this thread (seed %i, %i iterations)", async (seed, iterations) => {
    const here = planCompany(company, { asOf: EVENING, seed, iterations });
    const there = await start().plan(company, { asOf: EVENING, seed, iterations });
    expect(JSON.stringify(there)).toBe(JSON.stringify(here));
    expect(there).toEqual(here);
  });

  it("is the same to the byte when it could have been stopped", async () => {
    const worker = start();
    const order = { asOf: EVENING, seed: 7, iterations: 30 };
    const free = await worker.plan(company, order);
    const watched = await worker.plan(company, { ...order, signal: new AbortController().signal });
    expect(JSON.stringify(watched)).toBe(JSON.stringify(free));
  });

  it("ends by itself when its milliseconds are over", async () => {
    const plan = await start().plan(company, { asOf: EVENING, seed: 1, milliseconds: 200 });
    expect(planSchema.parse(plan)).toEqual(plan);
  });

  it("comes in the order in which it was asked for", async () => {
    const worker = start();
    const ended: number[] = [];
    const seeds = [5, 4, 3];
    await Promise.all(
      seeds.map((seed) => worker.plan(company, { ...QUICK, seed }).then((plan) => ended.push(plan.seed))),
    );
    expect(ended).toEqual(seeds);
  });

  it("is made beside another one where there are two threads", async () => {
    const worker = start({ threads: 2 });
    const long = await startLongRun(worker);
    expect((await worker.plan(company, QUICK)).iterations).toBe(2);
    long.stop();
    await long.plan;
  });
});

describe("a run that is stopped", () => {
  it("gives a complete plan that keeps every rule, no dearer than what it told first", async () => {
    const { plan, told, stop } = await startLongRun(start());
    stop();
    const best = planSchema.parse(await plan);
    expect(checkPlan(company, best)).toEqual([]);
    expect(best.cost.total).toBeLessThanOrEqual(told[0]?.cost ?? 0);
  });

  it("tells nothing any more", async () => {
    const worker = start();
    const { plan, told, stop } = await startLongRun(worker);
    const before = told.length;
    stop();
    await plan;
    // The thread answers in order: what it had still to tell of the run would be here with the next plan.
    await worker.plan(company, QUICK);
    expect(told).toHaveLength(before);
  });

  it("leaves the thread to the next plan", async () => {
    const worker = start();
    const { plan, stop } = await startLongRun(worker);
    const next = worker.plan(company, QUICK);
    stop();
    await plan;
    expect(JSON.stringify(await next)).toBe(JSON.stringify(planCompany(company, QUICK)));
  });

  it("before it has begun says that there is no plan, and the one before it goes on", async () => {
    const worker = start();
    const first = await startLongRun(worker);
    const stop = new AbortController();
    const second = worker.plan(company, { ...FOR_EVER, signal: stop.signal });
    stop.abort();
    await expect(second).rejects.toThrow(new PlanningStopped());
    await expect(worker.plan(company, { ...FOR_EVER, signal: AbortSignal.abort() })).rejects.toThrow(
      "Planning was stopped before there was a first plan.",
    );
    first.stop();
    expect((await first.plan).tasks.length).toBeGreaterThan(0);
  });
});

describe("a thread that dies", () => {
  const entry = new URL("./dying-thread.mjs", import.meta.url);

  it.each([
    [13, "it left with code 7"],
    [14, "out of paper"],
  ])("fails its plan with a sentence, and the next plan gets a new thread (seed %i)", async (seed, why) => {
    const worker = start({ entry });
    const lost = worker.plan(company, { ...QUICK, seed });
    const waiting = worker.plan(company, QUICK);
    await expect(lost).rejects.toThrow(
      `The thread that was planning has ended before its plan was made: ${why}. Plan again.`,
    );
    expect((await waiting).iterations).toBe(2);
    expect((await worker.plan(company, QUICK)).iterations).toBe(2);
  });

  it("because its file is not there fails each plan, and nothing else", async () => {
    const worker = start({ entry: new URL("./no-such-thread.mjs", import.meta.url) });
    await expect(worker.plan(company, QUICK)).rejects.toThrow(/no-such-thread\.mjs.*Plan again\.$/s);
    await expect(worker.plan(company, QUICK)).rejects.toThrow(/no-such-thread\.mjs/);
  });
});

it("a bug of the planner comes back as its own error, and the thread goes on", async () => {
  const worker = start();
  // No company at all: what only a bug could hand in.
  const broken = worker.plan({} as Company, QUICK);
  await expect(broken).rejects.toThrow(TypeError);
  expect((await worker.plan(company, QUICK)).iterations).toBe(2);
});

describe("a worker that is closed", () => {
  it("lets the run under way end with its best, drops what waits, and takes no more", async () => {
    const worker = start();
    const { plan } = await startLongRun(worker);
    const waiting = expect(worker.plan(company, QUICK)).rejects.toThrow(PlanningStopped);
    await worker.close();
    await waiting;
    expect(checkPlan(company, await plan)).toEqual([]);
    await expect(worker.plan(company, QUICK)).rejects.toThrow("Planning has ended");
  });

  it("can be closed again, and before anything was planned", async () => {
    const worker = start();
    await worker.close();
    await worker.close();
  });
});
