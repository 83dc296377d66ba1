/**
 * How long crews drive (reading 9): a fixed part, and great-circle miles times the detour at the policy's speed.
 */
import type { Company } from "../../domain/company-schema.js";
import { ceilRange, type Range } from "./length.js";

export const LOAD_MINUTES = 15;
const EARTH_RADIUS_KM = 6371.0088;
const KM_PER_MILE = 1.609344;

interface Place {
  readonly lat: number;
  readonly lon: number;
}

/** Whole minutes, rounded up. */
export function travelMinutes({ policy }: Company, from: Place, to: Place): Range {
  return ceilRange(
    policy.travelFixedMinutes + (milesBetween(from, to) * policy.detour * 60) / policy.travelMph,
  );
}

/** Great-circle distance by the haversine formula (Sinnott, Sky and Telescope 68, 1984), from memory. */
function milesBetween(a: Place, b: Place): number {
  const rad = (degrees: number) => (degrees * Math.PI) / 180;
  const half = (x: number) => Math.sin(rad(x) / 2) ** 2;
  const h = half(b.lat - a.lat) + Math.cos(rad(a.lat)) * Math.cos(rad(b.lat)) * half(b.lon - a.lon);
  return (2 * EARTH_RADIUS_KM * Math.asin(Math.min(1, Math.sqrt(h)))) / KM_PER_MILE;
}
