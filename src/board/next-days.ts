/**
 * The days after a crew's sheet in short, each in a line of a phone: when and where it starts, which trades, and whether
 * that is published. What is left out stands on the day's own sheet.
 */
import type { Crew } from "../domain/company-schema.js";
import { addDays, type CivilDate } from "../domain/time.js";
import { holdsOfCrew } from "./crew-holds.js";
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
    const day = { date, day: shortDate(date, language), mark: isPublished(date) ? words.published : "" };
    const holds = holdsOfCrew(reading, crew, date);
    const whys = [...new Set(holds.flatMap(({ why }) => (why === "" ? [] : [why])))].join(", ");
    const hold = holds.length === 0 ? "" : words.hold;
    if (first === undefined) {
      return {
        ...day,
        start: "",
        where: words.notCalledOut,
        stamps: [],
        hold: shorten(whys, MOST_OF_A_REASON) || hold,
      };
    }
    const stamps = listStamps(reading, blocks, language);
    const start = clockThere(first.start, first.zone, reading.zone, language);
    const ofStart = Math.max(0, start.length - USUAL_START);
    const room = ROOM - ofStart - stamps.length * OF_A_STAMP - lengthOf(hold) - lengthOf(day.mark);
    return {
      ...day,
      start,
      where: sayHouses(
        listHouses(blocks).map(({ name }) => name),
        room,
      ),
      stamps,
      hold,
    };
  });
}

/** Characters that two lines of a phone of 390 px take beside the day and the start, and what a stamp takes of them. */
const ROOM = 53;
const OF_A_STAMP = 5;
const MOST_STAMPS = 4;
/** Of a start without the name of another zone. */
const USUAL_START = "10:30 a.m.".length;
/** The least of a house's name that tells it from others, whatever else is to be said. */
const LEAST_OF_A_HOUSE = 14;
const MOST_OF_A_REASON = 38;

/** With what sets it apart from what is before it. */
const lengthOf = (word: string): number => (word === "" ? 0 : word.length + 3);

/** All of them where they are short; else the first one, and how many come after it. */
function sayHouses(names: readonly string[], room: number): string {
  const all = names.join(", ");
  if (all.length <= room) return all;
  const more = names.length === 1 ? "" : ` +${names.length - 1}`;
  return shorten(names[0] ?? "", Math.max(LEAST_OF_A_HOUSE, room - more.length)) + more;
}

function shorten(text: string, most: number): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).replace(/[\s,;:]+$/, "")}…`;
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
