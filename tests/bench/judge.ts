/**
 * Whether an answer counts: its schedule keeps every rule of the file, it ends when the search says so, and it was
 * found within its budget.
 */
import type { Problem } from "../../src/planner/core/problem.js";
import type { Search, Solution } from "../../src/planner/core/search.js";
import type { Instance } from "./families.js";
import { makespanOf, type Schedule } from "./verify/schedule.js";

export type Budget =
  | { readonly kind: "schedules"; readonly schedules: number }
  | { readonly kind: "seconds"; readonly seconds: number };

export interface Judged {
  readonly makespan: number;
  readonly schedules: number;
  /** Why the answer does not count; empty where it does. */
  readonly faults: readonly string[];
}

export interface Solved extends Judged {
  readonly seconds: number;
}

/** Looks at the best schedule so far. The makespan is taken from the schedule, not from what the search says of it. */
export function judge(
  instance: Instance,
  problem: Problem,
  { best, schedules }: Pick<Search, "best" | "schedules">,
  budget: Budget,
): Judged {
  const schedule = toSchedule(problem, best);
  const makespan = makespanOf(schedule);
  const faults = [...instance.check(schedule)];
  if (best.cost !== makespan) faults.push(`the search says ${best.cost}, its schedule ends at ${makespan}`);
  if (budget.kind === "schedules" && schedules > budget.schedules) {
    faults.push(`${schedules} schedules were decoded, ${budget.schedules} were allowed`);
  }
  return { makespan, schedules, faults };
}

/** In open problems an activity is a task, and carries the task's number. */
function toSchedule(problem: Problem, { starts, ends, genome }: Solution): Schedule {
  return {
    starts,
    ends,
    crews: problem.activities.map(({ staffings }, task) => staffings[genome.staffing[task] ?? -1]?.[0] ?? -1),
  };
}
