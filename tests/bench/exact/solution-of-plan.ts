/**
 * A Daylap plan read as a solution of the exact problem: whose crew, from when to when, on the model's axis. So that the
 * model's cost can be compared with the planner's on one and the same plan.
 */
import type { Plan } from "../../../src/domain/plan-format.js";
import { dayStart, parseInstant } from "../../../src/domain/time.js";
import { DAY, type ExactProblem } from "./exact-problem.js";
import type { ExactSolution } from "./exact-solution.js";

/** Throws where the plan leaves an activity of the problem out. */
export function solutionOfPlan(problem: ExactProblem, plan: Plan): ExactSolution {
  const { company, firstDate, activities } = problem;
  const zone = company.company.timeZone;
  const midnight = dayStart(firstDate, zone);
  const minuteOf = (iso: string): number => (parseInstant(iso, zone) ?? NaN) - midnight;
  const starts = problem.pieces.map(() => 0);
  const ends = problem.pieces.map(() => 0);
  const crewOf = activities.map(({ job, tasks, pieces }) => {
    const house = company.jobs[job]?.id;
    const work = plan.blocks.filter(
      (block) => block.kind === "work" && block.job === house && tasks.some(({ id }) => id === block.task),
    );
    for (const [unit, piece] of pieces.entries()) {
      const own = problem.pieces[piece]?.whole ? work.filter(({ units }) => units?.[0] === unit + 1) : work;
      starts[piece] = toPoint(problem, Math.min(...own.map(({ start }) => minuteOf(start))), "start");
      ends[piece] = toPoint(problem, Math.max(...own.map(({ end }) => minuteOf(end))), "end");
    }
    const crew = company.crews.findIndex(({ id }) => id === work[0]?.crew);
    if (crew < 0) throw new RangeError(`The plan has no work on "${tasks[0]?.id ?? ""}" of ${house ?? ""}.`);
    return crew;
  });
  return { crewOf, starts, ends };
}

/** A wall-clock minute since midnight of the first date as a point: the meal break is taken out. */
function toPoint({ windows }: ExactProblem, minute: number, what: "start" | "end"): number {
  const day = Math.floor(minute / DAY);
  const sinceShift = minute - day * DAY - windows.shiftStart;
  const isPast = what === "start" ? sinceShift >= windows.breakAt : sinceShift > windows.breakAt;
  return day * DAY + sinceShift - (isPast ? windows.breakMinutes : 0);
}
