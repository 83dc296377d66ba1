/** The search for a company's plan: it never loses what it has, and the same seed finds the same. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany, PlanSearch } from "../../src/planner/plan.js";
import { anyCompany } from "../support/company-arbitrary.js";
import { aCompany, aJob, aTask, aCrew, parsed } from "../support/company-builder.js";
import { propertySeed } from "../support/property-seed.js";
import { minuteAt, civilDate } from "../../src/domain/time.js";

const runs = (seed: number, numRuns: number) => ({ seed: propertySeed(seed), numRuns });
const asOf = minuteAt(civilDate("2027-03-14"), "18:00", "America/New_York");

/** Two crews, four houses with a day's siding each, all promised for the second day: order and crews both matter. */
function fourHouses() {
  return parsed(
    aCompany({
      crews: [aCrew({ id: "alder", name: "Alder" }), aCrew({ id: "birch", name: "Birch" })],
      jobs: ["a", "b", "c", "d"].map((id, index) =>
        aJob({
          id,
          name: `House ${id}`,
          promised: index < 2 ? "2027-03-15" : "2027-03-16",
          tasks: [aTask({ id: "t1", trade: "siding", laborHours: 18 })],
        }),
      ),
    }),
  );
}

describe("the search", () => {
  it("keeps a complete plan that breaks no rule after every step", () => {
    const company = fourHouses();
    const search = new PlanSearch(company, { asOf, seed: 3, iterations: 40 });
    do expect(checkPlan(company, search.toPlan())).toEqual([]);
    while (search.step());
  });

  it("never leaves more out, nor raises the cost, from one step to the next", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf: from }) => {
        const search = new PlanSearch(company, { asOf: from, seed: 1, iterations: 60 });
        let before = { leftOut: search.leftOut, cost: search.cost };
        while (search.step()) {
          expect(search.leftOut).toBeLessThanOrEqual(before.leftOut);
          if (search.leftOut === before.leftOut) expect(search.cost).toBeLessThanOrEqual(before.cost);
          before = { leftOut: search.leftOut, cost: search.cost };
        }
        expect(search.toPlan().cost.total).toBe(before.cost);
      }),
      runs(41, 25),
    );
  });

  it("breaks no rule on random companies, however long it goes on", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf: from }) => {
        expect(checkPlan(company, planCompany(company, { asOf: from, seed: 2, iterations: 80 }))).toEqual([]);
      }),
      runs(42, 40),
    );
  });

  it("spends exactly the iterations that it is given, unless there is nothing left to try", () => {
    const search = new PlanSearch(fourHouses(), { asOf, seed: 1, iterations: 25 });
    while (search.step());
    expect(search.iteration).toBe(25);
  });

  it("ends by itself when a small company has nothing left to try", () => {
    const company = parsed(
      aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1", trade: "siding", laborHours: 8 })] })] }),
    );
    const search = new PlanSearch(company, { asOf, seed: 1, iterations: 1_000_000 });
    while (search.step());
    expect(search.iteration).toBeLessThan(1_000);
  });

  it("finds the order in which nobody is late, where the first rule would not", () => {
    const plan = planCompany(fourHouses(), { asOf, seed: 1, iterations: 300 });
    expect(plan.cost.lateDays).toBe(0);
  });

  it("finds the same plan, to the byte, with the same seed", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf: from }) => {
        const options = { asOf: from, seed: 7, iterations: 50 };
        expect(JSON.stringify(planCompany(company, options))).toBe(
          JSON.stringify(planCompany(company, options)),
        );
      }),
      runs(43, 20),
    );
  });
});

describe("a plan given as a start", () => {
  it("is never made worse, and a single iteration keeps it as it is", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf: from }) => {
        const before = planCompany(company, { asOf: from, seed: 1, iterations: 50 });
        const after = planCompany(company, { asOf: from, seed: 5, iterations: 1, from: before });
        expect(after.impossible.length).toBeLessThanOrEqual(before.impossible.length);
        expect(after.cost.total).toBeCloseTo(before.cost.total, 6);
      }),
      runs(44, 40),
    );
  });

  it("of a company that has changed since is a start all the same", () => {
    const before = planCompany(fourHouses(), { asOf, seed: 1, iterations: 100 });
    const [first, ...others] = fourHouses().jobs;
    const changed = { ...fourHouses(), jobs: first ? [{ ...first, id: "new" }, ...others] : others };
    const after = planCompany(changed, { asOf, seed: 1, iterations: 20, from: before });
    expect(checkPlan(changed, after)).toEqual([]);
    expect(after.tasks.map((task) => task.job).sort()).toEqual(["b", "c", "d", "new"]);
  });
});
