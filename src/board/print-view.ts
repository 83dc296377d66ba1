/**
 * What is printed of a day: the whole board on one page, and a page for each crew that is called out, in its own language.
 * Each page is set as large as it fits; before its type becomes too small to read by a headlamp, a page says less.
 */
import type { CivilDate } from "../domain/time.js";
import { sayHold } from "./crew-holds.js";
import { buildDaySheetView, type DaySheetView } from "./day-sheet-view.js";
import { holdsOn } from "./hold-view.js";
import { boardPageHeight, crewPageHeight } from "./print-layout.js";
import { findSize } from "./print-size.js";
import type { PublishedPromise } from "./promise.js";
import type { Reading } from "./reading.js";
import { longDate, type Language } from "./spoken-time.js";
import type { StampView } from "./trade-stamp.js";

export interface PrintedSheet {
  readonly sheet: DaySheetView;
  /** Of its type, in points. */
  readonly size: number;
  readonly withReasons: boolean;
}

export interface PrintedBoardRow {
  readonly crewName: string;
  readonly lead: string;
  readonly start: string;
  readonly standing: string;
  readonly entries: readonly {
    readonly time: string;
    readonly stamp: StampView | null;
    readonly text: string;
  }[];
  readonly light: readonly string[];
}

export interface PrintedBoard {
  readonly title: string;
  readonly companyName: string;
  readonly rows: readonly PrintedBoardRow[];
  /** Crews that stay at home, and why. */
  readonly atHome: readonly string[];
  readonly holds: readonly string[];
}

export interface SetBoard extends PrintedBoard {
  readonly size: number;
}

export interface PrintView {
  /** Null where one crew's page alone is printed. */
  readonly board: SetBoard | null;
  readonly sheets: readonly PrintedSheet[];
  readonly date: CivilDate;
}

/** The day of all crews: the board, then the crews' pages. */
export function buildPrintView(
  reading: Reading,
  date: CivilDate,
  today: CivilDate,
  promise: PublishedPromise,
): PrintView {
  const { crews, company } = reading.company;
  const sheetOf = (crew: (typeof crews)[number], language: Language): DaySheetView =>
    buildDaySheetView(reading, crew, date, today, language, promise);
  const english = crews.map((crew) => sheetOf(crew, "en"));
  const calledOut = english.filter(({ isCalledOut }) => isCalledOut);
  const boardOf = (workOnly: boolean): PrintedBoard => ({
    title: longDate(date, "en"),
    companyName: company.name,
    rows: calledOut.map((sheet) => toRow(sheet, workOnly)),
    atHome: english.flatMap(({ isCalledOut, notCalledOut }) => (isCalledOut ? [] : [notCalledOut])),
    holds: holdsOn(reading.company, date).map((hold) => sayHold(reading, hold, "en")),
  });
  return {
    board: setBoard(boardOf(false), boardOf(true)),
    sheets: crews
      .map((crew) => sheetOf(crew, crew.language))
      .filter(({ isCalledOut }) => isCalledOut)
      .map(toPrinted),
    date,
  };
}

/** One crew's page alone. */
export function buildCrewPrintView(sheet: DaySheetView): PrintView {
  return { board: null, sheets: [toPrinted(sheet)], date: sheet.date };
}

function toRow(sheet: DaySheetView, workOnly: boolean): PrintedBoardRow {
  return {
    crewName: sheet.crewName,
    lead: sheet.lead,
    start: `${sheet.startTime} ${sheet.startPlace}`,
    standing: sheet.isPublished ? "published" : "forecast",
    entries: listLines(sheet.entries, workOnly),
    light: [...sheet.toolsDown.map(({ label, time }) => `${label} ${time}`), sheet.lightLine].filter(
      (line) => line !== "",
    ),
  };
}

/** Each with its house where that is another than before. */
function listLines(entries: DaySheetView["entries"], workOnly: boolean): PrintedBoardRow["entries"] {
  let newPlace = "";
  return entries.flatMap(({ kind, time, until, place, stamp, title, units }) => {
    if (place !== "") newPlace = place;
    if (workOnly && kind !== "work") return [];
    const what = units === "" ? title : `${title}, ${units}`;
    const text = newPlace === "" ? what : `${newPlace}: ${what}`;
    newPlace = "";
    return [{ time: `${time}–${until}`, stamp, text }];
  });
}

/** In points: what is still read in a truck. */
const LEAST_READABLE = 9;

/** In full, or with the work alone where that would be too small. */
function setBoard(full: PrintedBoard, workOnly: PrintedBoard): SetBoard {
  const sizeOf = (board: PrintedBoard): number => findSize((width) => boardPageHeight(board, width));
  const size = sizeOf(full);
  return size < LEAST_READABLE ? { ...workOnly, size: sizeOf(workOnly) } : { ...full, size };
}

/** The same of the reasons of its steps. */
function toPrinted(sheet: DaySheetView): PrintedSheet {
  const sizeOf = (withReasons: boolean): number =>
    findSize((width) => crewPageHeight(sheet, withReasons, width));
  const full = sizeOf(true);
  const withReasons = full >= LEAST_READABLE;
  return { sheet, size: withReasons ? full : sizeOf(false), withReasons };
}
