/** How long stops are waited for, as a figure: the longest of them. */
import { measureCancellation } from "../cancellation.js";
import { medianOf, type Measured } from "./measure.js";

export async function measureStops(): Promise<Measured> {
  const waited = await measureCancellation();
  return {
    value: Math.max(...waited),
    more: `longest of ${waited.length}, median ${medianOf(waited).toFixed(0)}`,
    faults: [],
  };
}
