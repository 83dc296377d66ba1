/**
 * The exact comparison as text: a line for each company and a summary.
 */
import type { PlanDifference } from "./plan-difference.js";
import type { Row } from "./run.js";
import type { ExactSummary } from "./summary.js";

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

export function formatSummary(summary: ExactSummary): string {
  const { companies, proven, equal, equalPercent, meanGapPercent, errors } = summary;
  return [
    `${companies} companies, ${proven} with a proven optimum.`,
    `The planner equals it in ${equal} of ${proven} (${equalPercent.toFixed(1)} %; bar 95); mean gap ${meanGapPercent.toFixed(2)} % (bar 0.5).`,
    `Solver ${summary.solverSeconds.toFixed(1)} s, planner ${summary.plannerSeconds.toFixed(1)} s in all.`,
    errors.length === 0 ? "No errors." : `ERRORS: ${errors.length}.`,
  ].join("\n");
}
