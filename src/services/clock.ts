/**
 * Where "now" comes from: the machine's clock, or one fixed minute (`--as-of`, tests).
 */
import { minuteOfDate, type Minute } from "../domain/time.js";

/** The minute that it is now. */
export type Clock = () => Minute;

export const machineClock: Clock = () => minuteOfDate(new Date());

/** A clock that stands still. */
export function makeFixedClock(minute: Minute): Clock {
  return () => minute;
}
