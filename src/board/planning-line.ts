/**
 * How far the search for a better plan has come, in a line: for the board and for the terminal.
 */

/** The figures of a search; iteration 0 is one that has not begun. */
export interface PlanningCounts {
  readonly iteration: number;
  /** Of the best plan that the search has. */
  readonly cost: number;
  /** Of the plan that is to be bettered. */
  readonly fromCost: number;
}

/** "Improving the plan… 1,240 tries, cost 16,860 → 14,120"; without the arrow while nothing cheaper is found. */
export function writePlanningLine({ iteration, cost, fromCost }: PlanningCounts): string {
  if (iteration === 0) return "Looking for a better plan…";
  const tries = iteration === 1 ? "1 try" : `${whole(iteration)} tries`;
  const from = whole(fromCost);
  const to = whole(Math.min(cost, fromCost));
  return `Improving the plan… ${tries}, cost ${from === to ? from : `${from} → ${to}`}`;
}

function whole(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 0 });
}
