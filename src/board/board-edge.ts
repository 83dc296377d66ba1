/**
 * What frames the story poles: from when to when the board reaches, the marks at its edge, the light behind it in percent,
 * and the sun of the day in words.
 */
import { clockAt, parseClockTime, type Interval, type Minute } from "../domain/time.js";
import type { Tag } from "./board-tags.js";
import type { Ground, LightPlace, Tone } from "./light-ground.js";
import { bareClock, clock } from "./spoken-time.js";

export interface BoardMark {
  readonly kind: "hour" | "sunrise" | "sunset";
  readonly text: string;
  readonly topRem: string;
}

export interface GroundPercent {
  readonly tone: Tone;
  readonly percent: string;
}

/** Whole hours from before dawn (or the first tag) to after dark (or the last tag). */
export function boardRange(tags: readonly Tag[], ground: Ground | undefined, zone: string): Interval {
  const starts = [...tags.map((tag) => tag.start), ...listTimes(ground?.dawn, ground?.sunrise)];
  const ends = [...tags.map((tag) => tag.end + 20), ...listTimes(ground?.sunset, ground?.dusk)];
  if (starts.length === 0 || ends.length === 0) return { start: 0, end: 60 };
  return { start: hourBefore(Math.min(...starts), zone), end: hourBefore(Math.max(...ends) + 59, zone) };
}

function listTimes(...times: readonly (Minute | null | undefined)[]): readonly Minute[] {
  return times.filter((time): time is Minute => time != null);
}

function hourBefore(minute: Minute, zone: string): Minute {
  return minute - ((parseClockTime(clockAt(minute, zone)) ?? 0) % 60);
}

/** Sun marks, and hours where no sun mark stands in their way. */
export function listMarks(
  range: Interval,
  ground: Ground | undefined,
  zone: string,
  rem: (minute: Minute) => number,
): readonly BoardMark[] {
  const suns: { kind: "sunrise" | "sunset"; at: Minute }[] = [];
  if (ground?.sunrise != null) suns.push({ kind: "sunrise", at: ground.sunrise });
  if (ground?.sunset != null) suns.push({ kind: "sunset", at: ground.sunset });
  const marks: BoardMark[] = suns.map(({ kind, at }) => ({
    kind,
    text: `${kind === "sunrise" ? "sun up" : "sun sets"} ${bareClock(at, zone)}`,
    topRem: fixed(rem(at)),
  }));
  for (let hour = range.start; hour <= range.end; hour += 60) {
    if (suns.some(({ at }) => Math.abs(rem(at) - rem(hour)) < 2.2)) continue;
    marks.push({ kind: "hour", text: hourText(hour, zone), topRem: fixed(rem(hour)) });
  }
  return marks;
}

function hourText(hour: Minute, zone: string): string {
  return clockAt(hour, zone) === "12:00" ? "noon" : clock(hour, zone, "en").replace(":00", "");
}

/** The ground's tones in percent of the board's height, from the top; always at least two. */
export function groundPercents(
  ground: Ground | undefined,
  heightRem: number,
  rem: (minute: Minute) => number,
): readonly GroundPercent[] {
  const stops = ground?.stops ?? [];
  const first = stops[0];
  if (first === undefined)
    return [
      { tone: "day", percent: "0" },
      { tone: "day", percent: "100" },
    ];
  // A gradient needs two stops; a polar day or night has one tone.
  const all = stops.length === 1 ? [first, { ...first, at: first.at + 1 }] : stops;
  return all.map((stop) => ({ tone: stop.tone, percent: fixed((rem(stop.at) / heightRem) * 100) }));
}

/** The sun of the day in words, and by when outdoor work and its cleanup end. */
export function sunFacts(
  place: LightPlace,
  ground: Ground,
  lastLight: "sunset" | "civil-dusk",
): readonly string[] {
  const at = (minute: Minute): string => clock(minute, place.zone, "en");
  const facts: string[] = [];
  if (ground.sunrise !== null) facts.push(`sun up ${at(ground.sunrise)}`);
  if (ground.sunset !== null) facts.push(`sets ${at(ground.sunset)}`);
  if (lastLight === "civil-dusk" && ground.dusk !== null) facts.push(`dark ${at(ground.dusk)}`);
  if (ground.light.kind === "all-day") facts.push("light all day");
  else if (ground.working === null) facts.push("no light for outdoor work");
  else facts.push(`outdoor work and cleanup end by ${at(ground.working.end)}`);
  return [...facts, `light as at ${place.name}`];
}

/** A length for a style rule: at most three decimals, none that are zero. */
export function fixed(value: number): string {
  return value.toFixed(3).replace(/\.?0+$/, "");
}
