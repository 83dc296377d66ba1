/**
 * One stay of a crew at one site on one day: setup, pieces of work, and room for cover-up and cleanup before it leaves.
 * Visits are never changed: adding work makes a new visit, so that a trial costs nothing to take back.
 */

/** A piece of one task's work in one visit. */
export interface Item {
  readonly task: number;
  /** Unit of its chain, or −1. */
  readonly unit: number;
  readonly minutes: number;
  /** It may not start before this. */
  readonly earliest: number;
  readonly start: number;
  readonly end: number;
  /** Start, end, start, end, … around breaks and holds. */
  readonly segments: readonly number[];
}

export interface Visit {
  readonly crew: number;
  readonly day: number;
  readonly site: number;
  /** The visit before it on that day, at another site; null when it is the day's first. */
  readonly before: Visit | null;
  readonly trades: readonly number[];
  readonly setupMinutes: number;
  readonly setupStart: number;
  readonly items: readonly Item[];
  /** Chains (as activities) worked in it that may stand open when the crew leaves. */
  readonly coverChains: readonly number[];
  readonly cleanupMinutes: number;
  /** Work may go on no longer than this, so that cover-up, cleanup and the way home still fit. */
  readonly toolsDown: number;
  /** Cover-up, then cleanup, then away. */
  readonly closeStart: number;
  readonly leave: number;
}

/** Work to be added to a visit. */
export interface Addition {
  readonly task: number;
  readonly unit: number;
  readonly trade: number;
  readonly minutes: number;
  readonly earliest: number;
  /** All of it, or as much as fits. */
  readonly whole: boolean;
  /** It starts this long after the end of an earlier addition (by place), inside one unit. */
  readonly lags: readonly { readonly from: number; readonly lagMinutes: number }[];
}

/** Where a visit stands: after another visit of the day, or first; by when its crew must have left. */
export interface Place {
  readonly crew: number;
  readonly day: number;
  readonly site: number;
  /** The visit before it on that day, at another site; null when it is the day's first. */
  readonly before: Visit | null;
  /** Not before this minute, whatever else (start of a gap). */
  readonly from: number;
  /** The crew must have left by then. */
  readonly leaveBy: number;
}

/** When the last work of a visit ends. */
export function lastEnd(visit: Visit): number {
  return visit.items.at(-1)?.end ?? visit.setupStart + visit.setupMinutes;
}

/** Whether two stays are the same in all that later work can notice. */
export function isSameVisit(one: Visit | null, other: Visit | null): boolean {
  if (one === other) return true;
  if (one === null || other === null) return false;
  return (
    one.crew === other.crew &&
    one.day === other.day &&
    one.site === other.site &&
    one.setupStart === other.setupStart &&
    one.setupMinutes === other.setupMinutes &&
    one.cleanupMinutes === other.cleanupMinutes &&
    one.toolsDown === other.toolsDown &&
    one.closeStart === other.closeStart &&
    one.leave === other.leave &&
    isSameList(one.trades, other.trades) &&
    isSameList(one.coverChains, other.coverChains) &&
    one.items.length === other.items.length &&
    one.items.every((item, index) => isSameItem(item, other.items[index])) &&
    isSameVisit(one.before, other.before)
  );
}

function isSameItem(one: Item, other: Item | undefined): boolean {
  return (
    other !== undefined &&
    one.task === other.task &&
    one.unit === other.unit &&
    one.minutes === other.minutes &&
    one.earliest === other.earliest &&
    one.start === other.start &&
    one.end === other.end
  );
}

function isSameList(one: readonly number[], other: readonly number[]): boolean {
  return one.length === other.length && one.every((value, index) => value === other[index]);
}
