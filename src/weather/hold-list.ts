/**
 * The hold list: times at which trades are not worked at houses, entered by hand or taken from a forecast.
 * A hold without an offset means wall time of the house, so one hold can be several intervals.
 */
import type { Hold, Trade } from "../domain/company-schema.js";
import { present } from "../domain/result.js";
import { parseInstant, type Interval } from "../domain/time.js";

type HeldTrade = Pick<Trade, "id" | "outdoor">;

/** Whether a hold stops a trade: "outdoor" is every trade that is worked outdoors; a wait has none, and only "all" stops it. */
export function stopsTrade({ trades }: Pick<Hold, "trades">, trade: HeldTrade | undefined): boolean {
  if (trades === "all") return true;
  if (trade === undefined) return false;
  return trades === "outdoor" ? trade.outdoor : trades.includes(trade.id);
}

/** Whether a hold is about a house at all. */
export function isAtHouse({ jobs }: Pick<Hold, "jobs">, jobId: string): boolean {
  return jobs === "all" || jobs.includes(jobId);
}

/** Whether a hold stops a trade at a house. */
export function appliesTo(hold: Hold, trade: HeldTrade, jobId: string): boolean {
  return stopsTrade(hold, trade) && isAtHouse(hold, jobId);
}

/** When a hold runs at a house in that zone; empty where it ends before it begins. */
export function intervalOfHold(hold: Pick<Hold, "id" | "from" | "to">, zone: string): Interval {
  const start = present(parseInstant(hold.from, zone), `the start of hold ${hold.id}`);
  const end = present(parseInstant(hold.to, zone), `the end of hold ${hold.id}`);
  return { start, end: Math.max(start, end) };
}

/** A hold, and when it runs at the house that was asked about. */
export interface HoldAtHouse {
  readonly hold: Hold;
  readonly interval: Interval;
}

/** The holds that stop a trade at a house, by start; empty ones are left out. */
export function listHoldsOf(
  holds: readonly Hold[],
  trade: HeldTrade,
  jobId: string,
  zone: string,
): readonly HoldAtHouse[] {
  return holds
    .filter((hold) => appliesTo(hold, trade, jobId))
    .map((hold) => ({ hold, interval: intervalOfHold(hold, zone) }))
    .filter(({ interval }) => interval.end > interval.start)
    .toSorted((a, b) => a.interval.start - b.interval.start);
}
