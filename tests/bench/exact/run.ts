/**
 * Forty small real-shaped companies, planned by Daylap and by a general-purpose solver that proves its optimum, side by
 * side. A planner below a proven optimum, or an optimum that is no good plan, is an error: then the two do not mean the
 * same, and no figure here is worth anything.
 */
import { pathToFileURL } from "node:url";
import { dayStart } from "../../../src/domain/time.js";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import { PlanSearch } from "../../../src/planner/plan.js";
import { problemOf } from "./company-problem.js";
import type { ExactProblem } from "./exact-problem.js";
import { countCost, listChoices } from "./exact-solution.js";
import { MiniZinc, type MiniZincTask } from "./minizinc-in-node.js";
import { comparePlans, type PlanDifference } from "./plan-difference.js";
import { planOfSolution } from "./plan-of-solution.js";
import { schedule } from "./prompt-schedule.js";
import { solutionOfPlan } from "./solution-of-plan.js";
import { solveExactly, type ExactAnswer } from "./solve-exactly.js";
import { summarize } from "./summary.js";
import { formatRow, formatSummary } from "./table.js";

export interface ExactOptions {
  readonly companies: number;
  /** The planner's budget: schedules. */
  readonly iterations: number;
  readonly solver: MiniZincTask["solver"];
  /** The solver's limit for each company. */
  readonly solverMilliseconds: number;
  readonly onRow?: (row: Row) => void;
}

export interface Row {
  /** Its company's seed. */
  readonly company: number;
  readonly crews: number;
  readonly houses: number;
  readonly tasks: number;
  /** The best that the solver found; undefined where it found nothing in time. */
  readonly optimum: number | undefined;
  readonly isProven: boolean;
  readonly planner: number;
  /** (planner − optimum) ÷ optimum; of an optimum of 0, 0 or Infinity. */
  readonly gap: number | undefined;
  readonly solverMilliseconds: number;
  readonly plannerMilliseconds: number;
  /** How far the planner's plan is from the optimal one that was found; undefined where none was. */
  readonly difference: PlanDifference | undefined;
  /** What must not be; empty in a good comparison. */
  readonly errors: readonly string[];
}

export const DEFAULTS: ExactOptions = {
  companies: 40,
  iterations: 3000,
  solver: "chuffed",
  solverMilliseconds: 60_000,
};

const TOLERANCE = 1e-6;

/** One row for each company, in order of their seeds 1, 2, 3, … */
export async function compareWithExact(options: ExactOptions = DEFAULTS): Promise<Row[]> {
  const miniZinc = await MiniZinc.open();
  try {
    const rows: Row[] = [];
    for (let seed = 1; seed <= options.companies; seed++) {
      const row = await compareOne(miniZinc, seed, options);
      options.onRow?.(row);
      rows.push(row);
    }
    return rows;
  } finally {
    miniZinc.close();
  }
}

async function compareOne(miniZinc: MiniZinc, seed: number, options: ExactOptions): Promise<Row> {
  const problem = problemOf(seed);
  const { company } = problem;
  const asOf = dayStart(problem.firstDate, company.company.timeZone);
  const begun = performance.now();
  const search = new PlanSearch(company, { asOf, seed, iterations: options.iterations });
  while (search.step());
  const planned = performance.now();
  const answer = await solveExactly(miniZinc, problem, options.solver, options.solverMilliseconds);
  const solved = performance.now();
  const planner = search.cost;
  const plan = search.toPlan();
  return {
    company: seed,
    crews: company.crews.length,
    houses: company.jobs.length,
    tasks: company.jobs.reduce((sum, job) => sum + job.tasks.length, 0),
    optimum: answer?.cost,
    isProven: answer?.isProven ?? false,
    planner,
    gap: answer && gapOf(planner, answer.cost),
    solverMilliseconds: solved - planned,
    plannerMilliseconds: planned - begun,
    difference: answer && comparePlans(problem, answer.solution, solutionOfPlan(problem, plan)),
    errors: [
      ...checkPlan(company, plan).map((broken) => `The planner's plan: ${formatBroken(broken)}`),
      ...(answer ? listErrors(problem, answer, planner) : []),
    ],
  };
}

function gapOf(planner: number, optimum: number): number {
  if (Math.abs(planner - optimum) <= TOLERANCE) return 0;
  return optimum > 0 ? (planner - optimum) / optimum : Infinity;
}

function listErrors(problem: ExactProblem, answer: ExactAnswer, planner: number): string[] {
  const errors: string[] = [];
  const counted = countCost(problem, answer.solution).total;
  if (Math.abs(counted - answer.cost) > TOLERANCE)
    errors.push(`The solver says ${answer.cost}, but its times cost ${counted}.`);
  const plan = planOfSolution(problem, answer.solution);
  errors.push(...checkPlan(problem.company, plan).map(formatBroken));
  const again = schedule(problem, listChoices(problem, answer.solution));
  if (again.starts.join() !== answer.solution.starts.join())
    errors.push("The solver's plan is not prompt: its own crews and order allow earlier starts.");
  if (answer.isProven && planner < answer.cost - TOLERANCE)
    errors.push(`The planner's ${planner} is below the proven optimum ${answer.cost}.`);
  return errors;
}

async function main(): Promise<void> {
  const [companies] = process.argv.slice(2);
  const rows = await compareWithExact({
    ...DEFAULTS,
    companies: companies === undefined ? DEFAULTS.companies : Number(companies),
    onRow: (row) => console.log(formatRow(row)),
  });
  console.log(formatSummary(summarize(rows)));
  if (rows.some((row) => row.errors.length > 0)) process.exitCode = 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) await main();
