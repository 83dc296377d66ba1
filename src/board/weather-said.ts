/**
 * What the holds say of the weather in people's own words ("gusts to 38 mph", "freezing rain"): the plan has no forecast
 * beside them. It only ever adds a caution or a line to a list; a hold that says nothing of weather adds none.
 */
import type { Hold } from "../domain/company-schema.js";

/** Null or false where no hold speaks of it. */
export interface WeatherSaid {
  readonly gustMph: number | null;
  readonly tempF: number | null;
  readonly heatIndexF: number | null;
  readonly thunder: boolean;
}

/** Where wind is named without a figure: the gusts at which sheets and tarps want tying down (common practice). */
const WIND_MPH = 25;
/** Where heat is named without a figure: from here on OSHA's heat-index guide speaks of caution. */
const HEAT_F = 80;
const FREEZING_F = 32;

const WIND = /\b(?:gust|winds?\b|windy|gale|nor'?easter|hurricane|viento|r[aá]faga|vendaval|hurac[aá]n)/iu;
const THUNDER = /\b(?:thunder|lightning|trueno|rel[aá]mpago|rayo|tormenta el[eé]ctrica)/iu;
const COLD = /\b(?:freez|frost|cold|snow|sleet|ice\b|icy|hiel|helad|nieve|fr[ií]o|aguanieve)/iu;
const HEAT = /\b(?:heat|hot\b|calor)/iu;

/** The worst that any of the holds says. */
export function weatherSaid(holds: readonly Pick<Hold, "why">[]): WeatherSaid {
  const said = holds.map(({ why }) => why);
  const windy = said.filter((why) => WIND.test(why));
  const hot = said.filter((why) => HEAT.test(why));
  return {
    gustMph:
      windy.length === 0 ? null : Math.max(...windy.map((why) => largest(why, /(\d+)\s*mph/giu) ?? WIND_MPH)),
    tempF: said.some((why) => COLD.test(why)) ? FREEZING_F : null,
    heatIndexF:
      hot.length === 0
        ? null
        : Math.max(HEAT_F, ...hot.map((why) => largest(why, /(\d+)\s*°?\s*F\b/gu) ?? 0)),
    thunder: said.some((why) => THUNDER.test(why)),
  };
}

function largest(text: string, figure: RegExp): number | undefined {
  const found = [...text.matchAll(figure)].map((match) => Number(match[1]));
  return found.length === 0 ? undefined : Math.max(...found);
}
