/**
 * The exact model without its solver: what it counts and what it schedules means the same as the planner's plan and the
 * checker's rules, on all forty companies.
 */
import { describe, expect, it } from "vitest";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { Random } from "../../../src/planner/core/random.js";
import { planCompany } from "../../../src/planner/plan.js";
import { aCompany, aCrew, aJob, aTask, aTrade, aWait, parsed } from "../../support/company-builder.js";
import { civilDate, dayStart } from "../../../src/domain/time.js";
import { buildExactProblem, DAY, type ExactProblem } from "./exact-problem.js";
import { countCost, listChoices } from "./exact-solution.js";
import { buildModelData } from "./model-data.js";
import { planOfSolution } from "./plan-of-solution.js";
import { problemOf } from "./company-problem.js";
import { chanceOrder, schedule } from "./prompt-schedule.js";
import { solutionOfPlan } from "./solution-of-plan.js";

const SEEDS = Array.from({ length: 40 }, (_, index) => index + 1);
const MONDAY = civilDate("2027-04-19");

function planOf(problem: ExactProblem) {
  const asOf = dayStart(problem.firstDate, problem.company.company.timeZone);
  return planCompany(problem.company, { asOf, seed: 1, iterations: 8 });
}

/** One house of two tasks and a wait for crew "alder" (three people, 07:00 to 15:30): six hours, then three. */
function smallProblem(): ExactProblem {
  const siding = aTrade();
  const tasks = [
    aTask({ id: "t1", laborHours: 18 }),
    aTask({ id: "t2", laborHours: 9, after: [{ task: "t1", lagHours: 24 }] }),
    aWait({ id: "w1", waitBusinessDays: 2, after: [{ task: "t2" }] }),
  ];
  const company = aCompany({
    trades: [siding],
    crews: [aCrew({ trades: { siding: 1 } })],
    jobs: [aJob({ promised: "2027-04-21", tasks })],
  });
  return buildExactProblem(parsed(company), MONDAY);
}

describe("exact model", () => {
  it("counts for the planner's own plan what the planner says that it costs", () => {
    for (const seed of SEEDS) {
      const problem = problemOf(seed);
      const plan = planOf(problem);
      const { lateDays, idleCrewHours, overtimeCrewHours, total } = countCost(
        problem,
        solutionOfPlan(problem, plan),
      );
      expect(lateDays, `company ${seed}`).toBe(plan.cost.lateDays);
      expect(idleCrewHours, `company ${seed}`).toBeCloseTo(plan.cost.idleCrewHours, 6);
      expect(overtimeCrewHours, `company ${seed}`).toBeCloseTo(plan.cost.overtimeCrewHours, 6);
      expect(total, `company ${seed}`).toBeCloseTo(plan.cost.total, 6);
    }
  });

  it("gives the planner's crews and orders the planner's times", () => {
    for (const seed of SEEDS) {
      const problem = problemOf(seed);
      const solution = solutionOfPlan(problem, planOf(problem));
      expect(schedule(problem, listChoices(problem, solution)), `company ${seed}`).toEqual(solution);
    }
  });

  it("makes plans that break no rule, whatever the crews and the order", () => {
    const random = new Random(7);
    for (const seed of SEEDS) {
      const problem = problemOf(seed);
      const solution = schedule(problem, chanceOrder(problem, random));
      const broken = checkPlan(problem.company, planOfSolution(problem, solution));
      expect(broken.map(formatBroken), `company ${seed}`).toEqual([]);
      expect(solutionOfPlan(problem, planOfSolution(problem, solution)), `company ${seed}`).toEqual(solution);
    }
  });

  it("works a small company by hand: setup before, a cure and a wait between, late days and idle hours counted", () => {
    const problem = smallProblem();
    const solution = schedule(problem, [
      { activity: 0, crew: 0 },
      { activity: 1, crew: 0 },
    ]);
    // Monday 07:20 to 13:50 with half an hour's break; the cure ends on Tuesday 13:50; 70 minutes are left of that day.
    expect(solution).toEqual({ crewOf: [0, 0], starts: [20, DAY + 380], ends: [380, 2 * DAY + 130] });
    // Over on Wednesday, the wait with Friday: two days late. Three days of eight hours less 50 minutes around, nine worked.
    expect(countCost(problem, solution)).toEqual({
      lateDays: 2,
      idleCrewHours: 3 * 8 - 2.5 - 9,
      overtimeCrewHours: 0,
      total: 2 * 300 + 12.5 * 40,
    });
  });

  it("gives the solver whole prices, and no day on which nothing that cheap can lie", () => {
    const data = buildModelData(smallProblem(), 1100);
    expect(data).toMatchObject({ lateCost: 1800, idleCost: 4, overtimeCost: 9, bound: 6600 });
    // Promised for Wednesday (day 2) and at most three days late; one day more stands for all that is later.
    expect(data).toMatchObject({ lastDay: [5], D: 7, from: [20, 20, 20, 20, 20, 0, 0] });
  });

  it("refuses a company that says more than it can hold", () => {
    const input = aCompany({ jobs: [aJob({ tasks: [aTask()] })] });
    expect(() => buildExactProblem(parsed(input), MONDAY)).toThrow(
      "The exact model cannot say an indoor trade.",
    );
    const yard = aCompany({
      trades: [aTrade()],
      crews: [aCrew({ trades: { siding: 1 }, startsAt: "yard" })],
    });
    expect(() => buildExactProblem(parsed(yard), MONDAY)).toThrow("a crew that starts at the yard");
  });
});
