/**
 * A forecast read against each trade's limits: which hours it should not be worked, and why. A person decides; a proposal
 * becomes a hold only when somebody takes it. A limit is the last value at which the trade still works.
 */
import type { Trade } from "../domain/company-schema.js";
import type { Text } from "../domain/plan-format.js";
import type { Interval } from "../domain/time.js";
import { FORECAST_HOUR_MINUTES, type Forecast, type ForecastHour } from "./forecast.js";

type Limits = Trade["limits"];
type LimitKind = keyof Limits;

/** Trades that share both hours and reason are one proposal. */
export interface ProposedHold extends Interval {
  readonly trades: readonly string[];
  /** A sentence that gives, for each limit broken, the worst value forecast and the limit. */
  readonly why: Text;
}

/** One limit: where its value stands in an hour, whether it is past, and how it is put into words. */
interface Measure {
  readonly valueOf: (hour: ForecastHour) => number | null;
  readonly isPast: (value: number, limit: number) => boolean;
  readonly say: (worst: string, limit: string) => Text;
}

const below = (value: number, limit: number) => value < limit;
const above = (value: number, limit: number) => value > limit;

const MEASURES = {
  minF: {
    valueOf: (hour) => hour.tempF,
    isPast: below,
    say: (worst, limit) => ({
      en: `down to ${worst} °F (limit ${limit} °F)`,
      es: `hasta ${worst} °F de mínima (límite ${limit} °F)`,
    }),
  },
  maxF: {
    valueOf: (hour) => hour.tempF,
    isPast: above,
    say: (worst, limit) => ({
      en: `up to ${worst} °F (limit ${limit} °F)`,
      es: `hasta ${worst} °F de máxima (límite ${limit} °F)`,
    }),
  },
  gustMph: {
    valueOf: (hour) => hour.gustMph,
    isPast: above,
    say: (worst, limit) => ({
      en: `gusts up to ${worst} mph (limit ${limit} mph)`,
      es: `ráfagas de hasta ${worst} mph (límite ${limit} mph)`,
    }),
  },
  rainInchesPerHour: {
    valueOf: (hour) => hour.rainInchesPerHour,
    isPast: above,
    say: (worst, limit) => ({
      en: `rain up to ${worst} in. an hour (limit ${limit} in.)`,
      es: `lluvia de hasta ${worst} pulg. por hora (límite ${limit} pulg.)`,
    }),
  },
  rainChancePct: {
    valueOf: (hour) => hour.rainChancePct,
    isPast: above,
    say: (worst, limit) => ({
      en: `rain chance up to ${worst} % (limit ${limit} %)`,
      es: `probabilidad de lluvia de hasta ${worst} % (límite ${limit} %)`,
    }),
  },
} as const satisfies { readonly [Kind in LimitKind]: Measure };

// The order in which reasons are given.
const KINDS: readonly LimitKind[] = ["rainInchesPerHour", "rainChancePct", "gustMph", "minF", "maxF"];

/**
 * The holds that a forecast calls for inside a window. Neighbouring hours that are past a limit are one hold; an unknown
 * value is past nothing. Trades that are not outdoors are never held. Sorted by start, then end, then first trade.
 */
export function proposeHolds(
  trades: readonly Trade[],
  forecast: Forecast,
  window: Interval,
): readonly ProposedHold[] {
  const hours = forecast.hours
    .filter((hour) => hour.start < window.end && hour.start + FORECAST_HOUR_MINUTES > window.start)
    .toSorted((a, b) => a.start - b.start);
  const grouped = new Map<string, ProposedHold>();
  for (const trade of trades) {
    if (!trade.outdoor) continue;
    for (const run of listRuns(hours, trade.limits)) {
      const start = Math.max(first(run).start, window.start);
      const end = Math.min(last(run).start + FORECAST_HOUR_MINUTES, window.end);
      const why = sentence(run, trade.limits);
      const key = `${start} ${end} ${why.en}`;
      const known = grouped.get(key);
      grouped.set(key, { start, end, why, trades: [...(known?.trades ?? []), trade.id] });
    }
  }
  return [...grouped.values()].toSorted((a, b) => a.start - b.start || a.end - b.end);
}

type Run = readonly [ForecastHour, ...ForecastHour[]];
const first = (run: Run) => run[0];
const last = (run: Run) => run.at(-1) ?? run[0];

function listRuns(hours: readonly ForecastHour[], limits: Limits): readonly Run[] {
  const runs: [ForecastHour, ...ForecastHour[]][] = [];
  for (const hour of hours) {
    if (!KINDS.some((kind) => isPast(hour, kind, limits))) continue;
    const run = runs.at(-1);
    if (run && last(run).start + FORECAST_HOUR_MINUTES >= hour.start) run.push(hour);
    else runs.push([hour]);
  }
  return runs;
}

function isPast(hour: ForecastHour, kind: LimitKind, limits: Limits): boolean {
  const value = MEASURES[kind].valueOf(hour);
  const limit = limits[kind];
  return value !== null && limit !== null && MEASURES[kind].isPast(value, limit);
}

function sentence(run: Run, limits: Limits): Text {
  const parts = KINDS.flatMap((kind) => {
    const limit = limits[kind];
    const past = run
      .filter((hour) => isPast(hour, kind, limits))
      .map((hour) => MEASURES[kind].valueOf(hour) ?? 0);
    if (limit === null || past.length === 0) return [];
    const worst = kind === "minF" ? Math.min(...past) : Math.max(...past);
    return [MEASURES[kind].say(rounded(worst, kind, limit), String(limit))];
  });
  return {
    en: `Forecast: ${parts.map((part) => part.en).join(", ")}.`,
    es: `Pronóstico: ${parts.map((part) => part.es).join(", ")}.`,
  };
}

/** To whole units, or hundredths of an inch; rounded away from the limit, so that "30.2" never reads "30 (limit 30)". */
function rounded(value: number, kind: LimitKind, limit: number): string {
  const step = kind === "rainInchesPerHour" ? 100 : 1;
  const nearest = Math.round(value * step) / step;
  if (MEASURES[kind].isPast(nearest, limit)) return String(nearest);
  return String((kind === "minF" ? Math.floor(value * step) : Math.ceil(value * step)) / step);
}
