/** A place as a link that a phone opens in its own map: a geo URI (RFC 5870), WGS 84, five decimals (about a metre). */
import type { Coordinates } from "../domain/great-circle.js";

/** "geo:43.59500,-70.33000". */
export function geoUri({ lat, lon }: Coordinates): string {
  return `geo:${fiveDecimals(lat)},${fiveDecimals(lon)}`;
}

function fiveDecimals(degrees: number): string {
  // No "-0.00000".
  return (Math.round(degrees * 1e5) / 1e5 + 0).toFixed(5);
}
