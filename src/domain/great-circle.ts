/**
 * Distances and drives: great-circle miles (haversine, sphere of radius 6371.0088 km, the mean radius of the IUGG) and
 * the policy's drive time.
 */
import type { Policy } from "./company-schema.js";

export interface Coordinates {
  readonly lat: number;
  readonly lon: number;
}

const EARTH_RADIUS_MILES = 6371.0088 / 1.609344;

/** Great-circle miles between two places. */
export function greatCircleMiles(from: Coordinates, to: Coordinates): number {
  const radians = (degrees: number): number => (degrees * Math.PI) / 180;
  const half = (degrees: number): number => Math.sin(radians(degrees) / 2) ** 2;
  const chord =
    half(to.lat - from.lat) +
    Math.cos(radians(from.lat)) * Math.cos(radians(to.lat)) * half(to.lon - from.lon);
  return 2 * EARTH_RADIUS_MILES * Math.asin(Math.min(1, Math.sqrt(chord)));
}

/** Whole minutes of a drive between two different houses (or yard and house), rounded up. */
export function driveMinutes(policy: Policy, from: Coordinates, to: Coordinates): number {
  const hours = (greatCircleMiles(from, to) * policy.detour) / policy.travelMph;
  return Math.ceil(policy.travelFixedMinutes + hours * 60 - 1e-9);
}
