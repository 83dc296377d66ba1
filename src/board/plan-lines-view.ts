/** The plans that have been kept, a line for each: when and how it was made, and what it costs. */
import { formatAt, minuteOfDate } from "../domain/time.js";
import { clock } from "./spoken-time.js";

/** How a kept plan was made. */
export interface PlanLine {
  readonly id: number;
  readonly companyVersion: number;
  readonly madeAt: Date;
  readonly asOf: Date;
  readonly seed: number;
  readonly iterations: number;
  readonly fromPlan: number | null;
  readonly plannerVersion: string;
  readonly cost: number;
}

export interface PlanLineView {
  readonly id: number;
  readonly made: string;
  readonly asOf: string;
  readonly companyVersion: number;
  readonly seed: string;
  readonly schedules: string;
  /** "plan 12", "nothing". */
  readonly from: string;
  readonly plannerVersion: string;
  readonly cost: string;
}

/** Times by the company's clock. */
export function buildPlanLines(plans: readonly PlanLine[], zone: string): readonly PlanLineView[] {
  const time = (date: Date): string => {
    const minute = minuteOfDate(date);
    return `${formatAt(minute, zone, "ccc d LLL y", "en-US")}, ${clock(minute, zone, "en")}`;
  };
  return plans.map((plan) => ({
    id: plan.id,
    made: time(plan.madeAt),
    asOf: time(plan.asOf),
    companyVersion: plan.companyVersion,
    seed: String(plan.seed),
    schedules: plan.iterations.toLocaleString("en-US"),
    from: plan.fromPlan === null ? "nothing" : `plan ${plan.fromPlan}`,
    plannerVersion: plan.plannerVersion,
    cost: plan.cost.toLocaleString("en-US", { maximumFractionDigits: 0 }),
  }));
}
