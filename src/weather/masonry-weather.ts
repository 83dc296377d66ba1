/**
 * Hot-weather and cold-weather steps for mortar, scratch coat and stone: TMS 602 (formerly ACI 530.1), read second-hand.
 * These are steps to take, not permission to work: the maker's instructions and local code come first.
 */

/** How fresh masonry is kept overnight, by the mean daily temperature. */
export type NightProtection = "none" | "cover" | "blankets" | "heat";

/** Above 100 °F, or above 90 °F with wind above 8 mph: shade and cool materials, wet the work (TMS 602). */
export function needsHotWeatherSteps(tempF: number, windMph: number): boolean {
  return tempF > 100 || (tempF > 90 && windMph > 8);
}

/** Below 40 °F: heat water or sand, keep mortar at 40 to 120 °F, lay nothing on ice or frost (TMS 602). */
export function needsColdWeatherSteps(tempF: number): boolean {
  return tempF < 40;
}

/** The average of the day's high and low, which is what TMS 602 calls the mean daily temperature. */
export function meanDailyF(highF: number, lowF: number): number {
  return (highF + lowF) / 2;
}

/**
 * 40 to 25 °F mean: weather-resistive cover for 24 h; 25 to 20 °F: insulating blankets; below 20 °F: kept above 32 °F
 * (TMS 602; the exact bands from memory).
 */
export function nightProtection(highF: number, lowF: number): NightProtection {
  const mean = meanDailyF(highF, lowF);
  if (mean < 20) return "heat";
  if (mean < 25) return "blankets";
  return mean < 40 ? "cover" : "none";
}
