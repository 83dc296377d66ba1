/**
 * What is printed of a day: the whole board on one page, and a page for each crew that is called out, in its own language.
 * A day with much in it is set smaller, and the fullest one leaves out the reasons of its steps, so that a page is enough.
 */
import type { CivilDate } from "../domain/time.js";
import { buildDaySheetView, type DaySheetView } from "./day-sheet-view.js";
import type { PublishedPromise } from "./promise.js";
import type { Reading } from "./reading.js";
import { longDate, type Language } from "./spoken-time.js";
import type { StampView } from "./trade-stamp.js";

export type PrintDensity = "plain" | "dense" | "densest";

export interface PrintedSheet {
  readonly sheet: DaySheetView;
  readonly density: PrintDensity;
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

export interface PrintView {
  /** Null where one crew's page alone is printed. */
  readonly board: PrintedBoard | null;
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
  const isCrowded = calledOut.reduce((sum, { entries }) => sum + entries.length, 0) > MOST_LINES;
  return {
    board: {
      title: longDate(date, "en"),
      companyName: company.name,
      rows: calledOut.map((sheet) => toRow(sheet, isCrowded)),
      atHome: english.flatMap(({ isCalledOut, notCalledOut }) => (isCalledOut ? [] : [notCalledOut])),
      holds: english[0]?.holds ?? [],
    },
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

/** Lines of a board that a letter page takes; beyond them it tells the work alone. */
const MOST_LINES = 55;

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

/** Characters that a letter page takes at the plain size, and at the small one: measured on the demo's sheets. */
const PLAIN_CHARACTERS = 3_600;
const DENSE_CHARACTERS = 5_800;

function toPrinted(sheet: DaySheetView): PrintedSheet {
  const { entries, holds, nextDays } = sheet;
  const characters = JSON.stringify({
    entries: entries.map((entry) => Object.values(entry)),
    holds,
    nextDays,
  }).length;
  const density =
    characters <= PLAIN_CHARACTERS ? "plain" : characters <= DENSE_CHARACTERS ? "dense" : "densest";
  return { sheet, density };
}
