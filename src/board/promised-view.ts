/**
 * The board of a day and the page of what is published: what holds, what has moved, and which sheets a person may
 * release.
 */
import { addDays, daysBetween, type CivilDate } from "../domain/time.js";
import { buildDriftView, sayPublishedBy, type DriftView } from "./drift-view.js";
import type { SheetState } from "./promised-day.js";
import type { PublishedPromise } from "./promise.js";
import type { Reading } from "./reading.js";
import { longDate, shortDate } from "./spoken-time.js";

export interface BoardPromiseView {
  readonly isPublished: boolean;
  /** "Nothing is published yet: all of this is a forecast.", "As published Mon 7 Dec, 6:00 pm by Robin." */
  readonly line: string;
  /** Whether something on this date is other than published. */
  readonly hasDrifted: boolean;
  /** By crew, in the order of the file: "as published", "forecast, not as published". */
  readonly crews: readonly { readonly crewId: string; readonly words: string; readonly state: SheetState }[];
  readonly drift: DriftView;
}

const STATE_WORDS = {
  "as-published": "as published",
  "other-times": "forecast: other times than published",
  "later-days": "forecast: not all of it done that day",
  "other-work": "forecast: not as published",
  "has-work": "the published work is in it",
  released: "released: may move",
  unpublished: "forecast",
} as const satisfies Record<SheetState, string>;

/** The plan has something else than is published. */
const OTHER: ReadonlySet<SheetState> = new Set(["other-times", "later-days", "other-work"]);

/** Of one date. */
export function buildBoardPromise(
  reading: Reading,
  promise: PublishedPromise,
  date: CivilDate,
): BoardPromiseView {
  const crews = reading.company.crews.map(({ id }) => {
    const state = promise.compare(id, date).state;
    return { crewId: id, words: STATE_WORDS[state], state };
  });
  const other = crews.filter(({ state }) => OTHER.has(state)).length;
  const drift = buildDriftView(reading, promise, date);
  return {
    isPublished: promise.isPublished,
    line: boardLine(reading, promise, date, other),
    hasDrifted: other > 0 || drift.moved.length > 0,
    crews,
    drift,
  };
}

function boardLine(reading: Reading, promise: PublishedPromise, date: CivilDate, other: number): string {
  if (!promise.isPublished) return "Nothing is published yet: all of this is a forecast.";
  const published = sayPublishedBy(promise.by, reading.zone);
  if (other > 0) {
    const crews = other === 1 ? "The day of 1 crew is" : `The days of ${other} crews are`;
    return `${crews} not as published: what this board shows of it is a forecast. ${published}`;
  }
  if (!promise.isWhole) {
    return `Only pieces of work are published: those of this day are in the plan, the rest is a forecast. ${published}`;
  }
  const held =
    date <= promise.frozenUntil
      ? "This day is as published."
      : "So far this day is as published; it may still move.";
  return `${held} ${published}`;
}

/** A crew's day inside the freeze. */
export interface HeldSheetView {
  readonly crewId: string;
  readonly crewName: string;
  readonly date: CivilDate;
  readonly day: string;
  readonly words: string;
  readonly isReleased: boolean;
  /** Whether the plan has something else. */
  readonly isOther: boolean;
  /** Whether anything is published for it, so that it can be released. */
  readonly hasSheet: boolean;
}

export interface PublishedPageView {
  readonly isPublished: boolean;
  readonly line: string;
  readonly drift: DriftView;
  readonly hasDrifted: boolean;
  /** "Sheets up to Tuesday 8 December are held". */
  readonly heldLine: string;
  readonly sheets: readonly HeldSheetView[];
}

/** More days than these are held by nobody who looks at a list. */
const MOST_DAYS = 7;

/** All that is published; `today` is the date of the company's zone. */
export function buildPublishedView(
  reading: Reading,
  promise: PublishedPromise,
  today: CivilDate,
): PublishedPageView {
  const drift = buildDriftView(reading, promise);
  const dates = Array.from(
    { length: Math.min(MOST_DAYS, daysBetween(today, promise.frozenUntil) + 1) },
    (_, ahead) => addDays(today, ahead),
  );
  const sheets = promise.isPublished
    ? dates.flatMap((date) =>
        reading.company.crews.map((crew) => heldSheet(promise, crew.id, crew.name, date)),
      )
    : [];
  return {
    isPublished: promise.isPublished,
    line: promise.isPublished
      ? sayPublishedBy(promise.by, reading.zone)
      : "Nothing is published yet: everything that boards and day sheets show is a forecast.",
    drift,
    hasDrifted: drift.moved.length > 0 || drift.promises.length > 0,
    heldLine: `Published day sheets up to ${longDate(promise.frozenUntil, "en")} move only when a person releases them.`,
    sheets: sheets.filter(({ hasSheet, isOther }) => hasSheet || isOther),
  };
}

function heldSheet(
  promise: PublishedPromise,
  crewId: string,
  crewName: string,
  date: CivilDate,
): HeldSheetView {
  const state = promise.compare(crewId, date).state;
  return {
    crewId,
    crewName,
    date,
    day: shortDate(date, "en"),
    words: STATE_WORDS[state],
    isReleased: state === "released",
    isOther: OTHER.has(state),
    hasSheet: promise.publishedOn(crewId, date).length > 0,
  };
}
