/**
 * A whole plan as text, one line a block, in the order of crews and their days; then the reasons, what is impossible,
 * and the figures that are not 0. Times are the wall clock at the house; a line without a house is the yard's.
 */
import type { Plan, PlanBlock } from "../../src/domain/plan-format.js";
import { spanText } from "./planned.js";

export function planText(plan: Plan): string {
  return [
    ...plan.blocks.map(blockText),
    ...plan.tasks.map(
      ({ task, start, end, because }) => `${task} ${spanText(start, end)}: ${because.text.en}`,
    ),
    ...plan.impossible.map(({ task, why }) => `${task} is impossible: ${why}`),
    ...Object.entries(plan.cost)
      .filter(([, amount]) => amount !== 0)
      .map(([name, amount]) => `${name} ${Math.round(amount * 100) / 100}`),
  ].join("\n");
}

function blockText({ crew, kind, job, task, units, start, end }: PlanBlock): string {
  const unit = units !== null && task !== null ? ` ${task} (${[...new Set(units)].join("-")})` : "";
  return `${crew} ${spanText(start, end)} ${kind}${unit}${job === null ? "" : ` at ${job}`}`;
}

/** An expected text: without the indent of the test, and without its first and last line breaks. */
export function lines(text: string): string {
  return text
    .trim()
    .split("\n")
    .map((line) => line.trim())
    .join("\n");
}
