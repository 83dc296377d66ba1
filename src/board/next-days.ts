/**
 * The days after a crew's sheet in short, each in a line of a phone: when and where it starts, which trades, and whether
 * that is published. What is left out stands on the day's own sheet.
 */
import type { Crew, Hold } from "../domain/company-schema.js";
import { addDays, type CivilDate } from "../domain/time.js";
import { stopsTrade } from "./hold-stops.js";
import { holdsOn } from "./hold-view.js";
import { listHouses, type DayBlock, type Reading } from "./reading.js";
import { clockThere, shortDate, type Language } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";
import { WORDS } from "./words.js";

export interface NextDayView {
  readonly date: CivilDate;
  readonly day: string;
  /** "7:30 am"; empty where the crew is not called out. */
  readonly start: string;
  /** "3 Kelp Street, 14 Spruce Lane"; or that the crew is not called out. */
  readonly where: string;
  /** The trades of the day, each once; `name` is for who cannot see the stamp. */
  readonly stamps: readonly { readonly stamp: StampView; readonly name: string }[];
  /** "hold", or, where the crew stays at home, why; empty where there is none. */
  readonly hold: string;
  /** "published", where it holds; empty where it may still change. */
  readonly mark: string;
}

const DAYS = [1, 2, 3, 4, 5];

export function listNextDays(
  reading: Reading,
  crew: Crew,
  after: CivilDate,
  isPublished: (date: CivilDate) => boolean,
  language: Language,
): readonly NextDayView[] {
  const words = WORDS[language];
  return DAYS.map((ahead) => {
    const date = addDays(after, ahead);
    const blocks = reading.dayOf(crew.id, date);
    const [first] = blocks;
    const reasons = [...new Set(listHolds(reading, crew, date).map(({ why }) => why))];
    const hasHold = reasons.length > 0;
    const why = shorten(reasons.filter((reason) => reason !== "").join(", "), MOST_OF_A_REASON);
    return {
      date,
      day: shortDate(date, language),
      start: first === undefined ? "" : clockThere(first.start, first.zone, reading.zone, language),
      where: first === undefined ? words.notCalledOut : sayHouses(listHouses(blocks).map(({ name }) => name)),
      stamps: listStamps(reading, blocks, language),
      hold: !hasHold ? "" : first === undefined && why !== "" ? why : words.hold,
      mark: isPublished(date) ? words.published : "",
    };
  });
}

/** Characters that leave room for the rest of a line, or of two, on a phone of 390 px. */
const MOST_OF_HOUSES = 30;
const MOST_OF_A_HOUSE = 24;
const MOST_OF_A_REASON = 40;
const MOST_STAMPS = 4;

/** All of them where they are short; else the first one, and how many come after it. */
function sayHouses(names: readonly string[]): string {
  const all = names.join(", ");
  if (all.length <= MOST_OF_HOUSES) return all;
  const first = shorten(names[0] ?? "", MOST_OF_A_HOUSE);
  return names.length === 1 ? first : `${first} +${names.length - 1}`;
}

function shorten(text: string, most: number): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
}

/** The holds of a date that stop a trade which the crew works. */
function listHolds(reading: Reading, crew: Crew, date: CivilDate): readonly Hold[] {
  const trades = Object.keys(crew.trades).map((id) => reading.trades.get(id));
  return holdsOn(reading.company, date).filter((hold) => trades.some((trade) => stopsTrade(hold, trade)));
}

function listStamps(
  reading: Reading,
  blocks: readonly DayBlock[],
  language: Language,
): NextDayView["stamps"] {
  const trades = blocks.flatMap(({ kind, task }) =>
    kind === "work" && task?.trade != null ? [task.trade] : [],
  );
  return [...new Set(trades)].slice(0, MOST_STAMPS).map((trade) => ({
    stamp: stampOf(reading.company.trades, trade),
    name: reading.trades.get(trade)?.name[language] ?? trade,
  }));
}
