/**
 * One short step of a trade's day, with the reason why it stands there.
 */
import type { Text } from "./plan-format.js";

export interface TradeStep {
  readonly step: Text;
  readonly why: Text;
}
