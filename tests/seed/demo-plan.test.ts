/**
 * What the demo shows: on a December evening every kind of reason, a wall that cannot be closed by dark, a published
 * day that the rain takes; and before the clocks change in March a plan that keeps every rule all the same.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import type { Company } from "../../src/domain/company-schema.js";
import { becauseKinds, type Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import { QUICK_ITERATIONS, USUAL_SEED } from "../../src/services/planning-budget.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";

const ZONE = "America/New_York";

interface Demo {
  readonly company: Company;
  readonly plan: Plan;
}

describe("on the evening of Monday 7 December 2026", () => {
  let demo: Demo;
  beforeAll(async () => {
    demo = await planDemo("2026-12-07T18:00");
  });

  it("the plan keeps every rule", () => {
    expect(listBroken(demo)).toEqual([]);
  });

  it("every kind of reason shows", () => {
    const seen = new Set(demo.plan.tasks.map((task) => task.because.kind));
    expect(becauseKinds.filter((kind) => !seen.has(kind))).toEqual([]);
  });

  it("every open task is planned, but for the bay that no day's light can close, which says so", () => {
    expect(demo.plan.impossible.map(({ job, task }) => `${job} ${task}`)).toEqual([
      "marsh-60 bay-strip",
      "marsh-60 bay-windows",
    ]);
  });

  it("the published Wednesday that the rain takes is told as not kept", () => {
    const [wednesday] = demo.plan.unkept;
    expect(wednesday).toMatchObject({
      job: "kelp-3",
      task: "front-siding",
      crew: "dune",
      date: "2026-12-09",
    });
  });

  it("nobody works outdoors in the wet, and somebody does rain work", () => {
    const trades = new Map(demo.company.trades.map((trade) => [trade.id, trade.outdoor]));
    const outdoors = listWork(demo, "2026-12-09").map(({ trade }) => trades.get(trade));
    expect(outdoors).not.toContain(true);
    expect(outdoors).toContain(false);
  });

  it("December's dark takes part of the long shift of the subcontracted crew", () => {
    const hands = demo.plan.days
      .filter(({ crew }) => crew === "dune")
      .map((day) => day.lightInHandMinutes ?? 0);
    expect(Math.min(...hands)).toBeLessThan(-45);
  });

  it("the extra Saturday and the stretch day are used, and the day off is not", () => {
    const days = demo.plan.days.filter(({ crew }) => crew === "alder");
    expect(days.find(({ date }) => date === "2026-12-12")).toBeDefined();
    expect(days.find(({ date }) => date === "2026-12-10")).toMatchObject({ stretch: true });
    expect(demo.plan.days.filter(({ crew, date }) => crew === "birch" && date === "2026-12-11")).toEqual([]);
  });

  it("shows late days, idle hours, overtime and every kind of block but cover-up", () => {
    const { lateDays, idleCrewHours, overtimeCrewHours } = demo.plan.cost;
    expect([lateDays, idleCrewHours, overtimeCrewHours].filter((figure) => figure > 0)).toHaveLength(3);
    const kinds = new Set(demo.plan.blocks.map((block) => block.kind));
    // No wall stays open overnight in this company, so there is nothing to cover.
    expect([...kinds].toSorted()).toEqual(["break", "cleanup", "load", "setup", "travel", "work"]);
  });
});

describe("on the evening of Friday 12 March 2027, before the clocks change", () => {
  it("the plan keeps every rule, and the first working day begins an hour later by the sun", async () => {
    const demo = await planDemo("2027-03-12T18:00");
    expect(listBroken(demo)).toEqual([]);
    const saturday = demo.plan.days.find(({ date }) => date === "2027-03-13")?.firstLight;
    const monday = demo.plan.days.find(({ date }) => date === "2027-03-15")?.firstLight;
    expect(saturday === undefined || saturday?.endsWith("-05:00")).toBe(true);
    expect(monday).toMatch(/^2027-03-15T06:[45]\d:00-04:00$/);
    expect(demo.plan.impossible.map(({ job }) => job)).toEqual(["marsh-60", "marsh-60"]);
  });
});

async function planDemo(at: string): Promise<Demo> {
  const asOf = present(parseInstant(at, ZONE), at);
  const parsed = parseCompany(layDemo(await readDemoTemplate(), civilDateAt(asOf, ZONE)));
  if (!parsed.ok) throw new Error(parsed.error.map(formatFault).join("\n"));
  const company = parsed.value;
  return { company, plan: planCompany(company, { asOf, seed: USUAL_SEED, iterations: QUICK_ITERATIONS }) };
}

function listBroken({ company, plan }: Demo): string[] {
  return checkPlan(company, plan).map(formatBroken);
}

function listWork({ company, plan }: Demo, date: string): { readonly trade: string }[] {
  return plan.blocks
    .filter((block) => block.kind === "work" && block.start.startsWith(date))
    .map((block) => {
      const job = company.jobs.find(({ id }) => id === block.job);
      return { trade: job?.tasks.find(({ id }) => id === block.task)?.trade ?? "" };
    });
}
