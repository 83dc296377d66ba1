/**
 * What a page says about the search for a better plan, and how it can tell later that the plan has changed.
 */
import { writePlanningLine } from "../board/planning-line.js";
import type { DeskState } from "../services/desk.js";

export interface PlanningView {
  readonly line: string;
  /** Of the plan on the page. */
  readonly stamp: string;
}

/** Undefined where no search goes on. */
export function buildPlanningView(state: DeskState): PlanningView | undefined {
  const { plan, planning } = state;
  if (planning === null) return undefined;
  return { line: writePlanningLine({ ...planning, fromCost: plan.cost.total }), stamp: stampOf(state) };
}

/** Another one for each plan that is shown. */
export function stampOf({ planId }: DeskState): string {
  return String(planId);
}
