/**
 * What must come before what, and why: water runs down, so each layer must be there before the one that laps it.
 * "trades": every task of one trade in an area before every task of the other. "steps": inside one trade's work.
 * "site": before or after all work there. `id` S1 to S30 numbers the rule in the list of trade facts; C is our addition.
 */
import type { Confidence } from "./cures.js";
import type { Text } from "./plan-format.js";
import type { TradeId } from "./trade-catalogue.js";

interface Grounds {
  readonly id: string;
  /** The rule in one sentence. */
  readonly rule: Text;
  readonly why: Text;
  readonly source: string;
  readonly confidence: Confidence;
}

export interface TradeOrder extends Grounds {
  readonly kind: "trades";
  readonly before: TradeId;
  readonly after: TradeId;
}

export interface StepOrder extends Grounds {
  readonly kind: "steps";
  readonly trade: TradeId;
}

export interface SiteOrder extends Grounds {
  readonly kind: "site";
}

export type OrderRule = TradeOrder | StepOrder | SiteOrder;
