/**
 * How each trade's day goes, in a few short steps with their reasons, for the day sheet. Common practice, in the order that
 * the order rules ask for; the maker's instructions and local code come first.
 */
import type { TradeId } from "./trade-catalogue.js";
import type { TradeStep } from "./trade-step.js";
import { finishSteps } from "./trade-steps-finish.js";
import { openWallSteps } from "./trade-steps-open-wall.js";

/** Three to six steps for each trade of the catalogue. */
export const tradeSteps: { readonly [Id in TradeId]: readonly TradeStep[] } = {
  ...openWallSteps,
  ...finishSteps,
};
