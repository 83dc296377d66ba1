/** What a hold stops: one reading of its trades and houses for whoever words it. */
import type { Hold, Trade } from "../domain/company-schema.js";

/** Whether a hold stops a trade; of a wait, which has no trade, only one of all work does. */
export function stopsTrade({ trades }: Pick<Hold, "trades">, trade: Trade | undefined): boolean {
  if (trades === "all") return true;
  if (trade === undefined) return false;
  return trades === "outdoor" ? trade.outdoor : trades.includes(trade.id);
}

/** Whether a hold is about a house at all. */
export function isAtHouse({ jobs }: Pick<Hold, "jobs">, jobId: string): boolean {
  return jobs === "all" || jobs.includes(jobId);
}
