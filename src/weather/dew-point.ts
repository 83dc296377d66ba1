/**
 * Dew point, and the spread between surface and dew point that paint, sealant and tape need.
 * Magnus form with a = 17.625, b = 243.04 °C (Alduchov and Eskridge 1996; the two numbers from memory).
 */

/** A surface must be this much warmer than the dew point before it is painted, sealed or taped (paint makers' bulletins). */
export const DEW_SPREAD_F = 5;

/** Dew point in °F; humidity above 0 and up to 100 percent. */
export function dewPointF(tempF: number, humidityPct: number): number {
  const celsius = ((tempF - 32) * 5) / 9;
  const gamma = Math.log(humidityPct / 100) + (17.625 * celsius) / (243.04 + celsius);
  return ((243.04 * gamma) / (17.625 - gamma)) * (9 / 5) + 32;
}

/** Whether a surface is dry enough to paint, seal or tape. Where nobody measured the surface, the air stands for it. */
export function dewSpreadAllows(tempF: number, humidityPct: number, surfaceF: number = tempF): boolean {
  return surfaceF - dewPointF(tempF, humidityPct) >= DEW_SPREAD_F;
}
