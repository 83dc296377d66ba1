/**
 * The hold list: times at which trades are not worked at houses, entered by hand or taken from a forecast.
 * A hold without an offset means wall time of the house, so one hold can be several intervals.
 */
import type { Hold, Trade } from "../domain/company-schema.js";
import { present } from "../domain/result.js";
import { parseInstant, type Interval } from "../domain/time.js";

/**
 * Whether a hold stops a trade at a house. "outdoor" is every trade that is worked outdoors, "all" every trade or every
 * house.
 */
export function appliesTo(hold: Hold, trade: Pick<Trade, "id" | "outdoor">, jobId: string): boolean {
  const holdsTrade =
    hold.trades === "all" || (hold.trades === "outdoor" ? trade.outdoor : hold.trades.includes(trade.id));
  return holdsTrade && (hold.jobs === "all" || hold.jobs.includes(jobId));
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
  trade: Pick<Trade, "id" | "outdoor">,
  jobId: string,
  zone: string,
): readonly HoldAtHouse[] {
  return holds
    .filter((hold) => appliesTo(hold, trade, jobId))
    .map((hold) => ({ hold, interval: intervalOfHold(hold, zone) }))
    .filter(({ interval }) => interval.end > interval.start)
    .toSorted((a, b) => a.interval.start - b.interval.start);
}
