/**
 * The sun's times of one civil date at one place, as exact instants (milliseconds since the epoch, UTC).
 * The one importer of suncalc. Sunrise and sunset: the sun's centre at −0.833°; civil dawn and dusk: at −6° (U.S. Naval
 * Observatory). Sea-level horizon. An event may fall on the neighbouring calendar date; NaN never leaves this file.
 */
import { getPosition, getTimes } from "suncalc";
import { invariant } from "../domain/result.js";
import { localNoon, type CivilDate, type Minute } from "../domain/time.js";

/** Degrees: latitude −90 to 90 (north positive), longitude −180 to 180 (east positive). */
export interface Place {
  readonly lat: number;
  readonly lon: number;
}

/** Milliseconds since the epoch; null where the sun does not cross that altitude on that side of noon. */
export interface SunTimes {
  readonly dawn: number | null;
  readonly sunrise: number | null;
  /** The sun's highest point. */
  readonly noon: number;
  readonly sunset: number | null;
  readonly dusk: number | null;
  /** Whether the sun stays above or below −0.833° for the whole solar day; null where it rises or sets. */
  readonly sunStays: "up" | "down" | null;
  /** The same for −6°. */
  readonly civilStays: "up" | "down" | null;
}

/** Altitude of the sun's centre at sunrise and sunset: 34′ of refraction and 16′ of radius. */
export const SUNRISE_DEGREES = -0.833;
/** Altitude of the sun's centre at civil dawn and dusk. */
export const CIVIL_DEGREES = -6;

/** Up to here suncalc's own solution holds to a few seconds; beyond, a sun that nearly grazes the horizon upsets it. */
const PLAIN_LATITUDE = 55;
const MS_PER_MINUTE = 60_000;
const HALF_DAY_MS = 43_200_000;
/** What suncalc adds to an altitude below the horizon: its refraction formula at 0° (Meeus 16.4). */
const REFRACTION_BELOW_HORIZON_DEGREES = (0.0002967 / Math.tan(0.00312536 / 0.08901179)) * (180 / Math.PI);
/** The sun's horizontal parallax, 8.794″: the site is that much nearer to the horizon's plane than the earth's centre. */
const PARALLAX_DEGREES = 8.794 / 3600;

/** The sun's times of a civil date; the zone says which solar day a date is. */
export function sunTimes(place: Place, date: CivilDate, zone: string): SunTimes {
  return sunTimesAtNoon(place, localNoon(date, zone));
}

/** The sun's times of the solar day whose noon is nearest to an instant (the local noon of a date). */
export function sunTimesAtNoon({ lat, lon }: Place, noonMinute: Minute): SunTimes {
  // suncalc answers null to nonsense, which would read as a polar day or night.
  invariant(Number.isFinite(lat) && Math.abs(lat) <= 90, `latitude ${lat} is not within -90 to 90`);
  invariant(Number.isFinite(lon) && Math.abs(lon) <= 180, `longitude ${lon} is not within -180 to 180`);
  invariant(Number.isFinite(noonMinute), `${noonMinute} is no minute`);
  const times = getTimes(new Date(noonMinute * MS_PER_MINUTE), lat, lon);
  const noon = times.solarNoon.getTime();
  const { dawn, sunrise, sunset, dusk } = times;
  if (Math.abs(lat) <= PLAIN_LATITUDE && dawn && sunrise && sunset && dusk) {
    return {
      dawn: dawn.getTime(),
      sunrise: sunrise.getTime(),
      noon,
      sunset: sunset.getTime(),
      dusk: dusk.getTime(),
      sunStays: null,
      civilStays: null,
    };
  }
  const sun = findCrossings({ lat, lon }, noon, SUNRISE_DEGREES);
  const civil = findCrossings({ lat, lon }, noon, CIVIL_DEGREES);
  return {
    dawn: civil.rise,
    sunrise: sun.rise,
    noon,
    sunset: sun.set,
    dusk: civil.set,
    sunStays: sun.stays,
    civilStays: civil.stays,
  };
}

interface Crossings {
  readonly rise: number | null;
  readonly set: number | null;
  readonly stays: "up" | "down" | null;
}

/** Where the altitude passes `degrees` between each midnight and noon. One side may have an event and the other none. */
function findCrossings(place: Place, noon: number, degrees: number): Crossings {
  const isUp = (ms: number) => trueAltitude(place, ms) > degrees;
  const upBefore = isUp(noon - HALF_DAY_MS);
  const upAfter = isUp(noon + HALF_DAY_MS);
  if (!isUp(noon)) {
    // Close to a pole the altitude drifts with the season more than it swings with the day.
    return { rise: null, set: null, stays: "down" };
  }
  return {
    rise: upBefore ? null : bisect(noon - HALF_DAY_MS, noon, isUp),
    set: upAfter ? null : bisect(noon + HALF_DAY_MS, noon, isUp),
    stays: upBefore && upAfter ? "up" : null,
  };
}

/** The instant, to 50 ms, between one when the sun is down and one when it is up. */
function bisect(down: number, up: number, isUp: (ms: number) => boolean): number {
  while (Math.abs(up - down) > 50) {
    const middle = (down + up) / 2;
    if (isUp(middle)) up = middle;
    else down = middle;
  }
  return Math.round(up);
}

/**
 * Altitude seen from the site without refraction, degrees; exact only near and below the horizon, where it is compared.
 * Where the sun grazes an altitude at midnight, even the parallax moves dusk by more than a minute.
 */
function trueAltitude({ lat, lon }: Place, ms: number): number {
  return getPosition(new Date(ms), lat, lon).altitude - REFRACTION_BELOW_HORIZON_DEGREES - PARALLAX_DEGREES;
}
