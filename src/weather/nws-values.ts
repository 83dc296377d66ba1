/**
 * Values as api.weather.gov writes them, turned into ours. Anything that cannot be read is null, which means unknown.
 * Wind is text in forecast periods and a number (km/h) in the raw grid; validTime is a start and an ISO 8601 duration.
 */
import { parseInstant, type Interval } from "../domain/time.js";

const METRES_PER_MILE = 1609.344;

/** Metres per second as miles per hour. */
export function toMph(metresPerSecond: number): number {
  return (metresPerSecond * 3600) / METRES_PER_MILE;
}

/** Kilometres per hour as miles per hour. */
export function kmhToMph(kmh: number): number {
  return (kmh * 1000) / METRES_PER_MILE;
}

/** "5 to 10 mph" → 10, the larger; also "10 mph" and "15 km/h". Null where the text says something else. */
export function parseWindSpeedMph(text: unknown): number | null {
  if (typeof text !== "string") return null;
  const match = /^\s*(?:\d+(?:\.\d+)?\s+to\s+)?(\d+(?:\.\d+)?)\s*(mph|km\/h)\s*$/i.exec(text);
  if (!match) return null;
  const speed = Number(match[1]);
  return match[2]?.toLowerCase() === "mph" ? speed : kmhToMph(speed);
}

/** A quantity `{ value: number | null }`, such as the probability of precipitation. Null stays unknown. */
export function parseQuantity(quantity: unknown): number | null {
  if (typeof quantity !== "object" || quantity === null || !("value" in quantity)) return null;
  return typeof quantity.value === "number" && Number.isFinite(quantity.value) ? quantity.value : null;
}

/** "2019-07-04T18:00:00+00:00/PT3H" → 18:00 to 21:00 UTC. Days, hours and minutes; undefined where it is no such text. */
export function parseValidTime(text: string): Interval | undefined {
  const match = /^([^/]+)\/P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?$/.exec(text);
  if (!match?.[1]) return undefined;
  const start = parseInstant(match[1], "UTC");
  const minutes = Number(match[2] ?? 0) * 1440 + Number(match[3] ?? 0) * 60 + Number(match[4] ?? 0);
  return start === undefined || minutes === 0 ? undefined : { start, end: start + minutes };
}
