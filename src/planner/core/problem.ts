/**
 * The general problem: tasks that one crew each works at a site inside that crew's windows, in an order with lags,
 * with counted resources ("equipment") held from a task's first start to its end, and with chains, which are worked
 * unit by unit. Whole minutes and small integers only; ids, dates and zones stay with whoever built the problem.
 */
import type { DayTable } from "./day-table.js";

/** No bound: earlier than every minute that is planned. */
export const NEVER = -2_000_000_000;
export const FOREVER = 2_000_000_000;

/** Constraints that can be lifted one by one, to find out which of them binds. */
export const LIFT = {
  nothing: 0,
  crewBusy: 1 << 0,
  crewOff: 1 << 1,
  access: 1 << 2,
  noLight: 1 << 3,
  hold: 1 << 4,
  afterTask: 1 << 5,
  curing: 1 << 6,
  notBefore: 1 << 7,
  delivery: 1 << 8,
  wait: 1 << 9,
  closeByDark: 1 << 10,
  equipment: 1 << 11,
  published: 1 << 12,
} as const;

/** An `after` edge: `lift` says which constraint it counts as; its lag by itself counts as curing. */
export interface CoreEdge {
  readonly task: number;
  readonly lagMinutes: number;
  readonly lift: number;
}

export interface Bound {
  readonly minute: number;
  readonly lift: number;
}

export interface EquipmentUse {
  readonly equipment: number;
  readonly amount: number;
}

export interface CoreTask {
  readonly site: number;
  /** −1: needs no crew. */
  readonly trade: number;
  /** Length by crew; −1 where the crew may not work it. */
  readonly minutes: Int32Array;
  /** Length of a task that takes time but no crew; 0 for all others. */
  readonly fixedMinutes: number;
  readonly after: readonly CoreEdge[];
  /** Minutes before which it may not start, each with the constraint that it counts as. */
  readonly bounds: readonly Bound[];
  /** Under way: what it follows is history. */
  readonly begun: boolean;
  readonly startedAt: number;
  readonly equipment: readonly EquipmentUse[];
  /** Full business days that a wait takes; −1 for a task that is no wait. */
  readonly waitDays: number;
}

/** The tasks that are decoded in one step: one task, a whole chain, or a wait. */
export interface Activity {
  readonly kind: "task" | "chain" | "wait";
  readonly site: number;
  /** In an order that respects the edges among them. */
  readonly tasks: readonly number[];
  /** Ways to staff it: for each of `tasks` a crew, −1 where it takes none. Empty for a wait. */
  readonly staffings: readonly Int32Array[];
  readonly chain: Chain | null;
  /** Other activities that must be decoded before. */
  readonly after: readonly number[];
  readonly followers: readonly number[];
  /** Due date of its job as a minute (the end of the promised date), or FOREVER. */
  readonly due: number;
  /** Longest path of lengths behind it inside its job, in minutes: the tail of the critical-path method. */
  readonly tailMinutes: number;
  readonly weight: number;
  /** −1, or its place among those that come before everything else (under way, then published). */
  readonly rank: number;
}

export interface Chain {
  /** Index of the first unit that is left, and how many units there are in all. */
  readonly firstUnit: number;
  readonly unitCount: number;
  /** For each of the activity's tasks: hours left in units 0…u−1, ascending; length `unitCount` + 1. */
  readonly hoursBefore: readonly Float64Array[];
  readonly opener: readonly boolean[];
  readonly closer: readonly boolean[];
  /** Edges inside the chain, by place in `tasks`. */
  readonly inner: readonly { readonly from: number; readonly to: number; readonly lagMinutes: number }[];
  /** Of these, the ones with a lag, by the place that they lead to. */
  readonly lags: readonly (readonly { readonly from: number; readonly lagMinutes: number }[])[];
  /** The trades worked in it, each once. */
  readonly trades: readonly number[];
  /** Whether a unit was open before the plan began: its opening cannot be blamed on the plan. */
  readonly openAtStart: readonly boolean[];
}

export interface Problem {
  /**
   * "days": crews have shifts, and days with travel, setup and cleanup in them. "open": time is one open line, crews and
   * equipment are there around the clock and at once; then start is 0 and nothing lies after `horizon`.
   */
  readonly time: "days" | "open";
  readonly horizon: number;
  /** Nothing happens before. */
  readonly start: number;
  /** Crew-days 0 … dayCount − 1; day 1 is the date on which the plan starts (day 0 is there for its late light). */
  readonly dayCount: number;
  /** First minute of each crew-day, one more than there are days. */
  readonly dayStart: DayStarts;
  readonly crewCount: number;
  readonly startsAtYard: readonly boolean[];
  readonly loadMinutes: number;
  readonly shift: DayTable;
  /** No day of a crew has more minutes than this, from leaving the yard to being back. */
  readonly longestDay: Int32Array;
  readonly breakAfterMinutes: number;
  readonly breakMinutes: number;
  /** Whether a crew is authorised to work to last light on a day. */
  readonly stretched: (crew: number, day: number) => boolean;
  readonly siteCount: number;
  /** Whether a site's dates are the crews' dates. */
  readonly sharesCrewDays: readonly boolean[];
  /** Light less its margin. */
  readonly light: DayTable;
  /** The same with no margin, for days that run to last light; empty where there is no sunset. */
  readonly lastLight: DayTable;
  readonly access: DayTable;
  /** Midnights of a site's own calendar, by its day index. */
  readonly siteDay: (site: number, minute: number) => number;
  readonly tradeCount: number;
  readonly outdoor: readonly boolean[];
  readonly setupMinutes: readonly number[];
  readonly cleanupMinutes: readonly number[];
  readonly coverUpMinutes: number;
  readonly openNights: number;
  /** Holds at `site * tradeCount + trade`: start, end, start, end, … merged and ascending. */
  readonly holds: readonly Int32Array[];
  /** At the same place: equal numbers where two trades of a site have the same windows. */
  readonly windowClass: Int32Array;
  /** Minutes from site to site; index `siteCount` is the yard. */
  readonly travel: (from: number, to: number) => number;
  readonly tasks: readonly CoreTask[];
  readonly activities: readonly Activity[];
  readonly activityOf: Int32Array;
  readonly equipmentCount: readonly number[];
  /** Money for a day late (of weight 1) and for an idle hour of a crew: what a choice of crew is weighed by. */
  readonly prices: { readonly lateDay: number; readonly idleCrewHour: number };
  /** The midnight that ends a wait. */
  readonly endOfWait: (task: number, after: number) => number;
}

export interface DayStarts {
  at(day: number): number;
  /** The crew-day that a minute lies in. */
  dayOf(minute: number): number;
}
