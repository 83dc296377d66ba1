/**
 * An exact problem given to a general-purpose solver, and its answer read back.
 */
import type { ExactProblem } from "./exact-problem.js";
import type { ExactSolution } from "./exact-solution.js";
import { MODEL } from "./minizinc-model.js";
import type { MiniZinc, MiniZincTask } from "./minizinc-in-node.js";
import { findUpperBound } from "./prompt-schedule.js";
import { buildModelData, costUnit } from "./model-data.js";

/** Tried for a first upper bound: some hundredths of a second. */
export const CHANCE_ORDERS = 3000;

export interface ExactAnswer {
  /** Nothing is cheaper. */
  readonly isProven: boolean;
  readonly cost: number;
  readonly solution: ExactSolution;
}

/** The best solution that is found in the time given; undefined where none is. */
export async function solveExactly(
  miniZinc: MiniZinc,
  problem: ExactProblem,
  solver: MiniZincTask["solver"],
  milliseconds: number,
): Promise<ExactAnswer | undefined> {
  const { status, values } = await miniZinc.solve({
    model: MODEL,
    data: buildModelData(problem, findUpperBound(problem, CHANCE_ORDERS).total),
    solver,
    milliseconds,
  });
  if (values === undefined) {
    if (status === "UNKNOWN") return undefined;
    throw new Error(`The solver says ${status} of a company that can be planned.`);
  }
  const { crew, start, end, cost } = values;
  if (!isNumbers(crew) || !isNumbers(start) || !isNumbers(end) || typeof cost !== "number")
    throw new Error("The solver's answer has not the variables of the model.");
  return {
    isProven: status === "OPTIMAL_SOLUTION",
    cost: cost / costUnit(problem).perOne,
    solution: { crewOf: crew.map((one) => one - 1), starts: start, ends: end },
  };
}

function isNumbers(value: unknown): value is number[] {
  return Array.isArray(value) && value.every((one) => typeof one === "number");
}
