/**
 * Usable light: which part of a civil date has enough light for outdoor work at a place, in whole minutes (UTC).
 * First light is rounded up and last light down, so that no minute of the answer is dark. Last light may fall on the next
 * calendar date (Fairbanks in June): instants are compared, never clock times.
 */
import { addDays, dayStart, localNoon, type CivilDate, type Interval, type Minute } from "../domain/time.js";
import { sunTimesAtNoon, type Place, type SunTimes } from "./sun.js";

/** `first` and `last` are there exactly when `kind` is "sun"; then `first` < `last`. */
export interface DayLight {
  /** "all-day": the light never ends that day; "none": it never begins. */
  readonly kind: "sun" | "all-day" | "none";
  readonly first: Minute | null;
  readonly last: Minute | null;
}

/** Between which events a company works outdoors (company file, `policy`). */
export interface LightLimits {
  readonly firstLight: "sunrise" | "civil-dawn";
  readonly lastLight: "sunset" | "civil-dusk";
}

const MS_PER_MINUTE = 60_000;
const ALL_DAY: DayLight = { kind: "all-day", first: null, last: null };
const NONE: DayLight = { kind: "none", first: null, last: null };

/** The light of a civil date at a place. */
export function lightOn(place: Place, date: CivilDate, zone: string, limits: LightLimits): DayLight {
  return lightAtNoon(
    place,
    localNoon(date, zone),
    dayStart(date, zone),
    dayStart(addDays(date, 1), zone),
    limits,
  );
}

/**
 * The same for a date whose local noon, first minute and end are known already. Where it stays light at one end only
 * (a sunrise, but no civil dusk), that end is the local midnight, or the sun's own event where that lies further out.
 */
export function lightAtNoon(
  place: Place,
  noonMinute: Minute,
  startMinute: Minute,
  endMinute: Minute,
  limits: LightLimits,
): DayLight {
  const sun = sunTimesAtNoon(place, noonMinute);
  const begin = FIRST[limits.firstLight](sun);
  const finish = LAST[limits.lastLight](sun);
  if (begin.stays === "down" || finish.stays === "down") return NONE;
  if (begin.ms === null && finish.ms === null) return ALL_DAY;
  const first = begin.ms === null ? Math.min(startMinute, upMinute(sun.sunrise)) : upMinute(begin.ms);
  const last = finish.ms === null ? Math.max(endMinute, downMinute(sun.sunset)) : downMinute(finish.ms);
  // At the edge of the polar night the sun may show for less than a whole minute.
  return first < last ? { kind: "sun", first, last } : NONE;
}

interface End {
  readonly ms: number | null;
  readonly stays: "up" | "down" | null;
}

const FIRST = {
  sunrise: (sun: SunTimes): End => ({ ms: sun.sunrise, stays: sun.sunStays }),
  "civil-dawn": (sun: SunTimes): End => ({ ms: sun.dawn, stays: sun.civilStays }),
} satisfies Record<LightLimits["firstLight"], (sun: SunTimes) => End>;

const LAST = {
  sunset: (sun: SunTimes): End => ({ ms: sun.sunset, stays: sun.sunStays }),
  "civil-dusk": (sun: SunTimes): End => ({ ms: sun.dusk, stays: sun.civilStays }),
} satisfies Record<LightLimits["lastLight"], (sun: SunTimes) => End>;

const upMinute = (ms: number | null) => (ms === null ? Infinity : Math.ceil(ms / MS_PER_MINUTE));
const downMinute = (ms: number | null) => (ms === null ? -Infinity : Math.floor(ms / MS_PER_MINUTE));

/**
 * When outdoor work may be done on a date: [first light, last light − margin); the whole local date, without a margin,
 * where the light never ends. Null without light, and where the margin leaves nothing.
 */
export function workingLight(
  light: DayLight,
  date: CivilDate,
  zone: string,
  marginMinutes: number,
): Interval | null {
  if (light.kind === "all-day") return { start: dayStart(date, zone), end: dayStart(addDays(date, 1), zone) };
  if (light.first === null || light.last === null) return null;
  const end = light.last - marginMinutes;
  return end > light.first ? { start: light.first, end } : null;
}

/**
 * (Last light − margin) − shift end, in minutes: positive is light left unused after the shift, negative is shift time
 * that the dark takes away. Null on a date without that event.
 */
export function lightInHandMinutes(light: DayLight, marginMinutes: number, shiftEnd: Minute): number | null {
  return light.last === null ? null : light.last - marginMinutes - shiftEnd;
}

/**
 * The minute at which tools go down, so that what ends the day (cover-up and cleanup, `closingMinutes`) is done by the
 * end of the shift and within the light. Null on a date that never gets light.
 */
export function toolsDown(
  light: DayLight,
  marginMinutes: number,
  shiftEnd: Minute,
  closingMinutes: number,
): Minute | null {
  if (light.kind === "none") return null;
  const end = light.last === null ? shiftEnd : Math.min(light.last - marginMinutes, shiftEnd);
  return end - closingMinutes;
}
