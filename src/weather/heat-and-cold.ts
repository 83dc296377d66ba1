/**
 * What air feels like to people who work in it: heat index and wind chill of the U.S. National Weather Service, and the
 * bands that worksite guidance draws. Degrees Fahrenheit, miles per hour, relative humidity in percent.
 */

/** Worksite bands of the OSHA heat-index guide. */
export type HeatBand = "lower" | "moderate" | "high" | "very-high";

/**
 * Heat index in °F (NWS): Rothfusz regression with its two humidity adjustments, and the simple formula, averaged with the
 * air temperature, where that stays below 80 °F. For shade; full sun adds up to 15 °F.
 */
export function heatIndexF(tempF: number, humidityPct: number): number {
  const simple = 0.5 * (tempF + 61 + (tempF - 68) * 1.2 + humidityPct * 0.094);
  const average = (simple + tempF) / 2;
  if (average < 80) return average;
  const t = tempF;
  const r = humidityPct;
  const regression =
    -42.379 +
    2.04901523 * t +
    10.14333127 * r -
    0.22475541 * t * r -
    0.00683783 * t * t -
    0.05481717 * r * r +
    0.00122874 * t * t * r +
    0.00085282 * t * r * r -
    0.00000199 * t * t * r * r;
  if (r < 13 && t >= 80 && t <= 112)
    return regression - ((13 - r) / 4) * Math.sqrt((17 - Math.abs(t - 95)) / 17);
  if (r > 85 && t >= 80 && t <= 87) return regression + ((r - 85) / 10) * ((87 - t) / 5);
  return regression;
}

/** The band of a heat index: below 91, 91 to 103, above 103 to 115, above 115 °F (OSHA heat-index guide). */
export function heatBand(indexF: number): HeatBand {
  if (indexF > 115) return "very-high";
  if (indexF > 103) return "high";
  return indexF >= 91 ? "moderate" : "lower";
}

/** Wind chill in °F (NWS 2001). Null above 50 °F and up to 3 mph, where it is not defined: use the air temperature. */
export function windChillF(tempF: number, windMph: number): number | null {
  if (tempF > 50 || windMph <= 3) return null;
  const v = windMph ** 0.16;
  return 35.74 + 0.6215 * tempF - 35.75 * v + 0.4275 * tempF * v;
}
