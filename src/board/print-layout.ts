/**
 * How high a printed page becomes, as views/static/print.css lays it out: its distances stand here once more. That both
 * agree is seen by whether pages are full and none runs over (tests/browser/printing.test.ts).
 */
import type { DaySheetView } from "./day-sheet-view.js";
import type { PrintedBoard } from "./print-view.js";
import { balance, heightOf, heightOfRow, LINE_HEIGHT } from "./print-size.js";

/** In em. */
const COLUMN_GAP = 1.6;
const BETWEEN_PARAGRAPHS = 0.15;
const BETWEEN_ENTRIES = 0.5;
const BOX = { padding: 0.25, sides: 1.2 } as const;
const INDENT = { steps: 1.5, cautions: 0.8, boxes: 1.5 } as const;
const RULE = 0.25;
const TITLE = 1.6;
const HOUSE = 1.2;
const SMALL = 0.85;

type Entry = DaySheetView["entries"][number];

/** A text in smaller type takes the room of a shorter one. */
const inSmall = (text: string): string => text.slice(0, Math.ceil(text.length * SMALL));
const sum = (heights: readonly number[]): number => heights.reduce((total, height) => total + height, 0);
const paragraph = (text: string, width: number): number =>
  text === "" ? 0 : heightOf(text, width) + 2 * BETWEEN_PARAGRAPHS;

/** The height of a crew's page of that width, with the reasons of its steps or without. */
export function crewPageHeight(sheet: DaySheetView, withReasons: boolean, width: number): number {
  const { words } = sheet;
  const facts = [
    `${words.starts} ${sheet.startTime} ${sheet.startPlace} ${sheet.firstHouse}`,
    ...[...sheet.sun, ...sheet.toolsDown].map(({ label, time }) => `${label} ${time}`),
    sheet.lightLine,
  ];
  const column = (width - COLUMN_GAP) / 2;
  return (
    heightOf(`${sheet.crewName}, ${sheet.title}`, width, { scale: TITLE, isBold: true }) +
    paragraph(`${sheet.lead} · ${sheet.standing}`, width) +
    (sheet.isCalledOut
      ? heightOfRow(
          facts.filter((fact) => fact !== ""),
          width,
          COLUMN_GAP,
        ) +
        3 * RULE
      : paragraph(sheet.notCalledOut, width)) +
    paragraph(`${words.holds}: ${sheet.holds.join("; ")}`, width) +
    (sheet.isCalledOut
      ? balance([
          ...sheet.entries.flatMap((entry) => listBlocks(entry, sheet, withReasons, column)),
          paragraph(sheet.deferral, column) + RULE,
          ...listNextDays(sheet, column),
        ])
      : sum(listNextDays(sheet, width)))
  );
}

/** The first with the heading. */
function listNextDays({ nextDays }: DaySheetView, width: number): readonly number[] {
  const [first = 0, ...lines] = nextDays.map(({ day, start, where, stamps, hold, mark }) =>
    heightOf([day, start, where, ...stamps.map(() => "[XX]"), "·", hold, mark].join(" "), width),
  );
  return [HOUSE * LINE_HEIGHT + BETWEEN_ENTRIES + first, ...lines];
}

/** What stays in one column: the box of a task; of anything else its line with what comes first, then each item. */
function listBlocks(
  entry: Entry,
  { words }: DaySheetView,
  withReasons: boolean,
  column: number,
): readonly number[] {
  const isWork = entry.kind === "work";
  const width = isWork ? column - BOX.sides : column;
  const house =
    entry.place === ""
      ? 0
      : heightOf(`${entry.place} ${inSmall(entry.address)}`, column, { scale: HOUSE }) + 2 * RULE;
  const line = `${entry.time}–${entry.until} [XX] ${entry.title}, ${entry.units}${entry.goesOn ? ` (${words.goesOn})` : ""}`;
  const head = house + heightOf(line, width, { isBold: true }) + 2 * BETWEEN_PARAGRAPHS;
  const listed = (label: string, items: readonly string[]): number =>
    items.length === 0 ? 0 : paragraph(`${label}: ${items.join("; ")}`, width);
  const told =
    listed(words.bring, entry.bring) +
    sum(
      entry.steps.map(({ text, reason }) =>
        heightOf(withReasons ? `${text} – ${reason}` : text, width - INDENT.steps),
      ),
    ) +
    listed(words.before, entry.before) +
    listed(words.after, entry.after);
  const cautions = entry.cautions.map(
    ({ text, rule }) => heightOf(`${text} (${inSmall(rule)})`, width - INDENT.cautions) + BETWEEN_PARAGRAPHS,
  );
  const items = [
    ...(cautions.length === 0 ? [] : [LINE_HEIGHT]),
    ...cautions,
    ...entry.checklist.map((item) => heightOf(item, width - INDENT.boxes)),
  ];
  if (isWork) return [head + told + sum(items) + 2 * BOX.padding + 2 * RULE + BETWEEN_ENTRIES];
  // A line is not the last of its column, nor is the heading of a list.
  const kept = head + told + sum(items.slice(0, 2));
  return [kept, ...items.slice(2), BETWEEN_ENTRIES];
}

/** Columns of the board's table and of the list in it. */
const BOARD = { crew: 9, light: 9, padding: 1, time: 10.5, name: 1.3 } as const;

/** The height of the board's page of that width. */
export function boardPageHeight(board: PrintedBoard, width: number): number {
  const day = width - BOARD.crew - BOARD.light - BOARD.padding - BOARD.time;
  const rows = board.rows.map((row) => {
    const crew =
      heightOf(row.crewName, BOARD.crew - BOARD.padding, { scale: BOARD.name, isBold: true }) +
      sum(
        [row.lead, row.start, `(${row.standing})`].map((text) => heightOf(text, BOARD.crew - BOARD.padding)),
      );
    const entries = row.entries.map(({ text, stamp }) =>
      heightOf(stamp === null ? text : `[XX] ${text}`, day, { isBold: stamp !== null }),
    );
    const light = row.light.map((text) => heightOf(text, BOARD.light - BOARD.padding));
    return Math.max(crew, sum(entries), sum(light)) + BOARD.padding / 2 + RULE;
  });
  return (
    heightOf(`${board.title} ${board.companyName}`, width, { scale: TITLE, isBold: true }) +
    LINE_HEIGHT +
    RULE +
    sum(rows) +
    paragraph(board.atHome.join(" "), width) +
    paragraph(board.holds.join("; "), width) +
    3 * LINE_HEIGHT
  );
}
