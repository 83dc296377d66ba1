/**
 * The ground behind the story poles: the day's real light from top to bottom, as colour stops, and the marks at its edge.
 * Drawn from the sun's true times at one place; a date without sunrise or sunset keeps one tone and says so.
 */
import { lightOn, workingLight, type DayLight } from "../daylight/light.js";
import { sunTimes, type SunTimes } from "../daylight/sun.js";
import type { Company } from "../domain/company-schema.js";
import type { CivilDate, Interval, Minute } from "../domain/time.js";

export type Tone = "night" | "twilight" | "sun" | "day";

export interface GroundStop {
  readonly at: Minute;
  readonly tone: Tone;
}

/** Where the light of a board is taken: the first house worked that day, or the yard. */
export interface LightPlace {
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly zone: string;
}

export interface Ground {
  readonly dawn: Minute | null;
  readonly sunrise: Minute | null;
  readonly sunset: Minute | null;
  readonly dusk: Minute | null;
  readonly light: DayLight;
  /** When outdoor work may be done by the company's policy, margin taken off. */
  readonly working: Interval | null;
  readonly stops: readonly GroundStop[];
}

const MS_PER_MINUTE = 60_000;
const NIGHT_BEFORE_DAWN_MINUTES = 25;
const LOW_SUN_MINUTES = 50;

/** The light of a date at a place, and the tones that it is drawn with. */
export function buildGround(company: Company, place: LightPlace, date: CivilDate): Ground {
  const sun = sunTimes(place, date, place.zone);
  const light = lightOn(place, date, place.zone, company.policy);
  return {
    dawn: minuteAfter(sun.dawn),
    sunrise: minuteAfter(sun.sunrise),
    sunset: minuteBefore(sun.sunset),
    dusk: minuteBefore(sun.dusk),
    light,
    working: workingLight(light, date, place.zone, company.policy.lightMarginMinutes),
    stops: listStops(sun),
  };
}

function listStops(sun: SunTimes): readonly GroundStop[] {
  const noon = Math.round(sun.noon / MS_PER_MINUTE);
  const noonTone: Tone = sun.sunStays !== "down" ? "day" : sun.civilStays !== "down" ? "twilight" : "night";
  return [
    ...edge(sun.dawn, sun.sunrise, -1),
    { at: noon, tone: noonTone },
    ...[...edge(sun.dusk, sun.sunset, 1)].reverse(),
  ];
}

/** The tones from the dark inwards; `outwards` is −1 in the morning and 1 in the evening. */
function edge(civil: number | null, horizon: number | null, outwards: 1 | -1): readonly GroundStop[] {
  const stops: GroundStop[] = [];
  const dark = minuteBefore(civil);
  const edgeOfSun = minuteBefore(horizon);
  if (dark !== null) {
    stops.push({ at: dark + outwards * NIGHT_BEFORE_DAWN_MINUTES, tone: "night" });
    stops.push({ at: dark, tone: "twilight" });
  }
  if (edgeOfSun !== null) {
    if (dark === null) stops.push({ at: edgeOfSun + outwards * LOW_SUN_MINUTES, tone: "twilight" });
    stops.push({ at: edgeOfSun, tone: "sun" });
    stops.push({ at: edgeOfSun - outwards * LOW_SUN_MINUTES, tone: "day" });
  }
  return stops;
}

// Rounded towards the day, as usable light is: no minute that a page calls light is dark.
function minuteAfter(ms: number | null): Minute | null {
  return ms === null ? null : Math.ceil(ms / MS_PER_MINUTE);
}

function minuteBefore(ms: number | null): Minute | null {
  return ms === null ? null : Math.floor(ms / MS_PER_MINUTE);
}
