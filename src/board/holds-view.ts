/**
 * The page of holds: those that stand, and what a new one can name. The form's own words and faults come from the web.
 */
import type { Company } from "../domain/company-schema.js";
import type { Minute } from "../domain/time.js";
import { listHoldViews, type HoldView } from "./hold-view.js";
import { stampOf, type StampView } from "./trade-stamp.js";

export interface HoldsView {
  readonly holds: readonly HoldView[];
  readonly trades: readonly { readonly id: string; readonly name: string; readonly stamp: StampView }[];
  readonly jobs: readonly { readonly id: string; readonly name: string }[];
  readonly zone: string;
}

/** The holds as they stand at an instant. */
export function buildHoldsView(company: Company, nowMinute: Minute): HoldsView {
  return {
    holds: listHoldViews(company, nowMinute),
    trades: company.trades.map((trade) => ({
      id: trade.id,
      name: trade.name.en,
      stamp: stampOf(company.trades, trade.id),
    })),
    jobs: company.jobs.map((job) => ({ id: job.id, name: job.name })),
    zone: company.company.timeZone,
  };
}
