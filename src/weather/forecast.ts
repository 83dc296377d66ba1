/**
 * A forecast as plain data, by the hour. Null means unknown, which is neither zero nor fair weather.
 */
import type { Minute } from "../domain/time.js";

/** One hour from `start`. */
export interface ForecastHour {
  readonly start: Minute;
  readonly tempF: number | null;
  /** The gust, not the mean: it is what takes a sheet out of a hand. */
  readonly gustMph: number | null;
  readonly rainInchesPerHour: number | null;
  readonly rainChancePct: number | null;
}

/** Hours in any order; an hour that is left out is unknown. */
export interface Forecast {
  readonly hours: readonly ForecastHour[];
}

export const FORECAST_HOUR_MINUTES = 60;
