/**
 * How a trade is marked where it must be told apart without colour: its two-letter stamp and a hatch pattern.
 * The usual stamps have a hatch of their own; a company's own trades share four plain ones, by their place in the file.
 */
import type { Trade } from "../domain/company-schema.js";

export interface StampView {
  /** Two capital letters; "··" for a wait, which has no trade. */
  readonly letters: string;
  /** A class of hatches.css. */
  readonly hatch: string;
}

const OWN_HATCHES: ReadonlySet<string> = new Set([
  "TO",
  "SH",
  "RF",
  "WB",
  "WN",
  "TR",
  "SD",
  "ST",
  "CK",
  "RO",
  "GU",
]);
const SHARED_HATCHES = ["hatch-a", "hatch-b", "hatch-c", "hatch-d"] as const;

/** The stamp of a trade; of a wait where there is none. */
export function stampOf(trades: readonly Trade[], tradeId: string | null): StampView {
  const trade = trades.find((candidate) => candidate.id === tradeId);
  if (trade === undefined) return { letters: "··", hatch: "hatch-wait" };
  if (OWN_HATCHES.has(trade.stamp)) return { letters: trade.stamp, hatch: `hatch-${trade.stamp}` };
  const others = trades.filter((candidate) => !OWN_HATCHES.has(candidate.stamp));
  return {
    letters: trade.stamp,
    hatch: SHARED_HATCHES[others.indexOf(trade) % SHARED_HATCHES.length] ?? SHARED_HATCHES[0],
  };
}
