/** When a search tells, drafts and stops, on a clock that the test moves. */
import { describe, expect, it } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { planCompany } from "../../src/planner/plan.js";
import {
  DROP,
  GO_ON,
  STOP,
  type PlanningBudget,
  type PlanningProgress,
} from "../../src/services/planning-messages.js";
import { runPlanning } from "../../src/services/run-planning.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { EVENING } from "./demo-company.js";

const parsed = parseCompany(aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1", laborHours: 6 })] })] }));
const company = present(parsed.ok ? parsed.value : undefined, "a sound company");

interface Told {
  readonly plan: Plan | undefined;
  readonly progress: readonly PlanningProgress[];
  /** What was told, in order. */
  readonly order: readonly string[];
}

/** Runs with a clock that goes on by `tickMs` each time it is read, and a flag that is raised at the n-th look. */
function run(
  budget: PlanningBudget,
  tickMs = 0,
  raise: { at: number; to: number } = { at: 1e9, to: STOP },
): Told {
  let now = 0;
  let looks = 0;
  const progress: PlanningProgress[] = [];
  const order: string[] = [];
  const plan = runPlanning(
    { company, asOf: EVENING, seed: 3, budget },
    {
      now: () => (now += tickMs),
      flag: () => ((looks += 1) >= raise.at ? raise.to : GO_ON),
      onProgress: (told) => {
        progress.push(told);
        order.push("progress");
      },
      onDraft: () => order.push("draft"),
    },
  );
  return { plan, progress, order };
}

describe("a run of the planner", () => {
  it("finds by iterations what the planner finds by itself, whatever the clock says", () => {
    const expected = JSON.stringify(planCompany(company, { asOf: EVENING, seed: 3, iterations: 12 }));
    expect(JSON.stringify(run({ iterations: 12 }).plan)).toBe(expected);
    expect(JSON.stringify(run({ iterations: 12 }, 77).plan)).toBe(expected);
  });

  it("ends when its milliseconds are over", () => {
    const { plan, progress } = run({ milliseconds: 5_000 }, 10);
    expect(plan?.tasks).toHaveLength(1);
    expect(progress.length).toBeGreaterThan(2);
    expect(progress.at(-1)?.milliseconds).toBeLessThanOrEqual(5_000);
  });

  it("ends at whichever of two limits comes first", () => {
    expect(run({ milliseconds: 1e9, iterations: 5 }, 1).plan?.iterations).toBe(5);
    expect(run({ milliseconds: 50, iterations: 1e9 }, 10).plan?.iterations).toBeLessThan(10);
  });

  it("tells at most ten times a second how far it is", () => {
    const { progress } = run({ milliseconds: 3_000 }, 7);
    const gaps = progress
      .slice(1)
      .map((told, index) => told.milliseconds - (progress[index]?.milliseconds ?? 0));
    expect(gaps.length).toBeGreaterThan(5);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(100);
  });

  it("leaves a first draft before it tells anything", () => {
    expect(run({ iterations: 3 }, 50).order.slice(0, 2)).toEqual(["draft", "progress"]);
  });

  it("explains its best when it is stopped between two steps", () => {
    const { plan } = run({ iterations: 1e9 }, 1, { at: 4, to: STOP });
    expect(plan).toEqual(planCompany(company, { asOf: EVENING, seed: 3, iterations: plan?.iterations ?? 0 }));
  });

  it("explains nothing when nobody waits any more", () => {
    expect(run({ iterations: 1e9 }, 1, { at: 4, to: DROP }).plan).toBeUndefined();
  });
});
