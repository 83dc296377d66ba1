/**
 * Rules that stop or change outdoor work at once, whatever the trade: thunder and smoke.
 */
import type { Minute } from "../domain/time.js";

/** Minutes from the last thunder to the return outdoors (OSHA and NOAA fact sheet 3863, 2016). */
export const THUNDER_WAIT_MINUTES = 30;

/** The earliest minute of outdoor work after thunder; each new thunder starts the wait again. */
export function earliestAfterThunder(lastThunder: Minute): Minute {
  return lastThunder + THUNDER_WAIT_MINUTES;
}

/**
 * Whether the wildfire smoke rule of California covers a shift (8 CCR 5141.1): PM2.5 index of 151 or more, for more than
 * one hour of exposure. Other states start elsewhere.
 */
export function californiaSmokeRuleApplies(pm25Aqi: number, exposureHours: number): boolean {
  return pm25Aqi >= 151 && exposureHours > 1;
}
