/**
 * The exact comparison as text: a line for each company and a summary.
 */
import type { PlanDifference } from "./plan-difference.js";
import type { Row } from "./run.js";

export function formatRow(row: Row): string {
  const { company, crews, houses, tasks, optimum, isProven, planner, gap } = row;
  const cells = [
    String(company).padStart(3),
    `${crews} crews ${houses} houses ${String(tasks).padStart(2)} tasks`,
    `optimum ${optimum === undefined ? "none found" : optimum.toFixed(2).padStart(9)} ${isProven ? "proven  " : "unproven"}`,
    `planner ${planner.toFixed(2).padStart(9)}`,
    `gap ${gap === undefined ? "?" : `${(gap * 100).toFixed(2)} %`.padStart(9)}`,
    `solver ${(row.solverMilliseconds / 1000).toFixed(2).padStart(6)} s`,
    `planner ${(row.plannerMilliseconds / 1000).toFixed(2).padStart(5)} s`,
  ];
  if (row.difference) cells.push(formatDifference(row.difference));
  return [cells.join("  "), ...row.errors.map((error) => `     ERROR ${error}`)].join("\n");
}

/** What the planner's plan has more (+) or less (−) of than the optimal one. */
function formatDifference({
  late,
  idle,
  overtime,
  calledOutDays,
  otherCrews,
  activities,
}: PlanDifference): string {
  const signed = (amount: number): string => `${amount < 0 ? "−" : "+"}${Math.abs(amount).toFixed(0)}`;
  return `late ${signed(late)} idle ${signed(idle)} overtime ${signed(overtime)}, crew-days ${signed(calledOutDays)}, other crew for ${otherCrews} of ${activities}`;
}

export function formatSummary(rows: readonly Row[]): string {
  const proven = rows.filter((row) => row.isProven);
  const equal = proven.filter((row) => row.gap === 0).length;
  const mean = proven.reduce((sum, row) => sum + (row.gap ?? 0), 0) / Math.max(1, proven.length);
  const seconds = (pick: (row: Row) => number): string =>
    (rows.reduce((sum, row) => sum + pick(row), 0) / 1000).toFixed(1);
  const wrong = rows.filter((row) => row.errors.length > 0).length;
  return [
    `${rows.length} companies, ${proven.length} with a proven optimum.`,
    `The planner equals it in ${equal} of ${proven.length}; mean gap ${(mean * 100).toFixed(2)} %.`,
    `Solver ${seconds((row) => row.solverMilliseconds)} s, planner ${seconds((row) => row.plannerMilliseconds)} s in all.`,
    wrong === 0 ? "No errors." : `ERRORS in ${wrong} companies.`,
  ].join("\n");
}
