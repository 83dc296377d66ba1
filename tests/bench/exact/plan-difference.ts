/**
 * In what a plan differs from an optimal one: which part of its cost is higher, and by what choice. It tells a search
 * where to look.
 */
import type { ExactProblem } from "./exact-problem.js";
import { countCost, listCalledOut, type ExactSolution } from "./exact-solution.js";

/** All amounts: the plan less the optimal one. */
export interface PlanDifference {
  /** Costs. */
  readonly late: number;
  readonly idle: number;
  readonly overtime: number;
  /** Days on which crews are called out. */
  readonly calledOutDays: number;
  /** Activities that another crew works, and how many there are in all. */
  readonly otherCrews: number;
  readonly activities: number;
}

export function comparePlans(
  problem: ExactProblem,
  optimal: ExactSolution,
  plan: ExactSolution,
): PlanDifference {
  const { cost } = problem.company.policy;
  const [best, own] = [countCost(problem, optimal), countCost(problem, plan)];
  const calledOut = (solution: ExactSolution): number =>
    problem.company.crews.reduce((sum, _, crew) => sum + listCalledOut(problem, solution, crew).size, 0);
  const idle = (own.idleCrewHours - best.idleCrewHours) * cost.idleCrewHour;
  const overtime = (own.overtimeCrewHours - best.overtimeCrewHours) * cost.overtimeCrewHour;
  return {
    late: own.total - best.total - idle - overtime,
    idle,
    overtime,
    calledOutDays: calledOut(plan) - calledOut(optimal),
    otherCrews: problem.activities.filter((_, index) => plan.crewOf[index] !== optimal.crewOf[index]).length,
    activities: problem.activities.length,
  };
}
