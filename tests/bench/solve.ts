/**
 * One instance, solved within a budget and verified. The clock is read here, between steps of the search; the planner
 * knows none. Time counts from the problem's description to the last step: making the problem and the first schedule
 * are in it, reading the file is not.
 */
import { openProblem } from "../../src/planner/core/open-problem.js";
import { startSearch } from "../../src/planner/core/start-search.js";
import type { Instance } from "./families.js";
import { judge, type Budget, type Solved } from "./judge.js";

/** The best answer within the budget, and how long it took. */
export function solve(instance: Instance, budget: Budget, seed: number): Solved {
  const begun = performance.now();
  const problem = openProblem(instance.input);
  const search =
    budget.kind === "schedules"
      ? startSearch(problem, { seed, schedules: budget.schedules })
      : startSearch(problem, { seed });
  if (budget.kind === "schedules") {
    while (search.schedules < budget.schedules && search.step());
  } else {
    const deadline = begun + budget.seconds * 1000;
    while (performance.now() < deadline && search.step());
  }
  const seconds = (performance.now() - begun) / 1000;

  return { ...judge(instance, problem, search, budget), seconds };
}
