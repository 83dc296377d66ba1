/** A schedule of the population, decoded in one direction and readable from both. */
import type { Solution } from "../search.js";

export interface Member extends Solution {
  /** Whether its times count from the end. */
  readonly backward: boolean;
  /** When the last activity ends. */
  readonly span: number;
}

/** By activity, when it starts seen from the front, or from the back: the keys that decode to a schedule no worse. */
export function toKeys({ starts, ends, span, backward }: Member, fromBehind: boolean): Float64Array {
  if (backward === fromBehind) return Float64Array.from(starts);
  return Float64Array.from(ends, (end) => span - end);
}
