/**
 * What is written on the tags of a story pole: each block of a crew's day, the tools-down notch, and the light that is
 * left. Each tag has a full wording and a short one, with the height (rem) that each needs at the board's type size.
 */
import { present } from "../domain/result.js";
import type { CivilDate, Minute } from "../domain/time.js";
import type { PlanDay } from "../domain/plan-format.js";
import { countLines, type Slot } from "./board-layout.js";
import { driveMiles, type Drive } from "./distance.js";
import { instantOf, type DayBlock, type Reading } from "./reading.js";
import { bareClock, clock, duration } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";

export type TagKind = DayBlock["kind"] | "tools-down" | "light";

export interface Tag extends Slot {
  readonly kind: TagKind;
  readonly stamp: StampView | null;
  /** For reading aloud, before the visible words: "Siding:". */
  readonly trade: string;
  /** The first, bold line of the full wording. */
  readonly heading: string;
  readonly detail: string;
  /** The short wording, in one run. */
  readonly line: string;
  /** For reading aloud, after the visible words: "until 12:00 pm". */
  readonly until: string;
  readonly needsAttention: boolean;
  /** The work that the tag stands for; null for everything around it. */
  readonly work: { readonly job: string; readonly task: string } | null;
}

// The words' column is 11.4 rem wide (13 without a stripe); measured on the longest lines that occur, with some to spare.
const HEADING_CHARACTERS = 21;
const LINE_CHARACTERS = 26;
const LIGHT_LINE_CHARACTERS = 29;
const HEADING_LINE_REM = 1.3;
const DETAIL_LINE_REM = 1.15;
const PADDING_REM = 0.4;
const SHORT_LINE_REM = 1.05;
const SHORT_PADDING_REM = 0.2;

/** The tags of one crew's day, in the order of the day. */
export function listTags(reading: Reading, crewId: string, date: CivilDate): readonly Tag[] {
  const blocks = reading.dayOf(crewId, date);
  const tags = blocks.map((block, index) => blockTag(reading, blocks, block, index));
  const last = blocks.findLast((block) => block.job !== null);
  const day = last?.job ? reading.lightOf(crewId, date, last.job.id) : undefined;
  const end = blocks.at(-1)?.end;
  if (last === undefined || day === undefined || end === undefined) return tags;
  return [...withToolsDown(tags, day, last.zone), lightTag(day, shiftEnd(reading, day) ?? end)];
}

function blockTag(reading: Reading, blocks: readonly DayBlock[], block: DayBlock, index: number): Tag {
  return block.kind === "work"
    ? workTag(reading, blocks, block, index)
    : lightBlockTag(reading, blocks, block, index);
}

function workTag(reading: Reading, blocks: readonly DayBlock[], block: DayBlock, index: number): Tag {
  const job = present(block.job, "the house of a work block");
  const task = present(block.task, "the task of a work block");
  const time = bareClock(block.start, block.zone);
  const heading = `${time} ${job.name}`;
  const detail = [taskTitle(task.title, task.area), unitsText(block.units, task.units)]
    .filter(Boolean)
    .join(" · ");
  const before = blocks.slice(0, index).findLast((earlier) => earlier.kind === "work");
  const line = before?.job === block.job ? `${time} ${detail}` : `${heading} · ${detail}`;
  const trade = reading.trades.get(task.trade ?? "");
  return {
    kind: "work",
    start: block.start,
    end: block.end,
    stamp: stampOf(reading.company.trades, task.trade),
    trade: trade === undefined ? "" : `${trade.name.en}:`,
    heading,
    detail,
    line,
    until: `until ${clock(block.end, block.zone, "en")}`,
    needsAttention: false,
    work: { job: job.id, task: task.id },
    isBox: true,
    needsRem: [
      countLines(heading, HEADING_CHARACTERS) * HEADING_LINE_REM +
        countLines(detail, LINE_CHARACTERS) * DETAIL_LINE_REM +
        PADDING_REM,
      shortNeedRem(line, LINE_CHARACTERS),
    ],
  };
}

const DRIVES = {
  "from-yard": "from the yard",
  "between-houses": "drive",
  "to-yard": "to the yard",
} as const satisfies Record<Drive["end"], string>;

const LIGHT_WORDS = {
  load: () => "load up",
  travel: (reading, blocks, index) => {
    const { miles, end } = driveMiles(reading.company, blocks, index, "en");
    return [DRIVES[end], miles].filter(Boolean).join(" ");
  },
  setup: () => "set up",
  break: () => "break",
  "cover-up": () => "cover up",
  cleanup: () => "clean up",
} as const satisfies Record<
  Exclude<DayBlock["kind"], "work">,
  (reading: Reading, blocks: readonly DayBlock[], index: number) => string
>;

function lightBlockTag(reading: Reading, blocks: readonly DayBlock[], block: DayBlock, index: number): Tag {
  const words = block.kind === "work" ? "" : LIGHT_WORDS[block.kind](reading, blocks, index);
  const line = `${words} · ${duration(block.end - block.start)}`;
  return {
    ...PLAIN,
    kind: block.kind,
    start: block.start,
    end: block.end,
    line,
    until: `from ${clock(block.start, block.zone, "en")} until ${clock(block.end, block.zone, "en")}`,
    needsRem: [shortNeedRem(line, LIGHT_LINE_CHARACTERS)],
  };
}

const PLAIN = {
  stamp: null,
  trade: "",
  heading: "",
  detail: "",
  needsAttention: false,
  work: null,
  isBox: false,
} as const;

function withToolsDown(tags: readonly Tag[], day: PlanDay, zone: string): readonly Tag[] {
  if (day.toolsDown === null) return tags;
  const at: Minute = instantOf(day.toolsDown, zone);
  const line = `tools down ${bareClock(at, zone)}`;
  const tag: Tag = {
    ...PLAIN,
    kind: "tools-down",
    start: at,
    end: at,
    line,
    until: "at the latest, so that cleanup ends in the light",
    needsRem: [shortNeedRem(line, LIGHT_LINE_CHARACTERS)],
  };
  const after = tags.findIndex((other) => other.start >= at);
  return after === -1 ? [...tags, tag] : [...tags.slice(0, after), tag, ...tags.slice(after)];
}

/** The light in hand is counted from the end of the shift: so there it stands. */
function shiftEnd(reading: Reading, day: PlanDay): Minute | undefined {
  if (day.lastLight === null || day.lightInHandMinutes === null) return undefined;
  const lastLight = instantOf(day.lastLight, reading.zone);
  return lastLight - reading.company.policy.lightMarginMinutes - day.lightInHandMinutes;
}

function lightTag(day: PlanDay, end: Minute): Tag {
  const { line, needsAttention } = lightInHand(day);
  return {
    ...PLAIN,
    kind: "light",
    start: end,
    end,
    line,
    until: "",
    needsAttention,
    needsRem: [shortNeedRem(line, LIGHT_LINE_CHARACTERS)],
  };
}

/** "19 min of light in hand", "dark takes 11 min of the shift", or what holds on a date without a sunset. */
export function lightInHand(day: PlanDay): { readonly line: string; readonly needsAttention: boolean } {
  if (day.light === "all-day") return { line: "light all day", needsAttention: false };
  if (day.light === "none" || day.lightInHandMinutes === null)
    return { line: "no light all day", needsAttention: true };
  if (day.stretch) return { line: "a stretch: works to last light", needsAttention: true };
  return day.lightInHandMinutes >= 0
    ? { line: `${duration(day.lightInHandMinutes)} of light in hand`, needsAttention: false }
    : { line: `dark takes ${duration(-day.lightInHandMinutes)} of the shift`, needsAttention: true };
}

/** A task's title with its area, where the title does not name the area itself. */
export function taskTitle(title: string, area: string | null): string {
  return area === null || title.toLowerCase().includes(area.toLowerCase()) ? title : `${title}, ${area}`;
}

/** "unit 2 of 4", "units 1–2 of 4"; empty where a task is of one piece. */
export function unitsText(units: readonly [number, number] | null, of: number): string {
  if (units === null || of === 1) return "";
  const [first, last] = units;
  if (first === 1 && last === of) return `all ${of} units`;
  return first === last ? `unit ${first} of ${of}` : `units ${first}–${last} of ${of}`;
}

function shortNeedRem(line: string, characters: number): number {
  return countLines(line, characters) * SHORT_LINE_REM + SHORT_PADDING_REM;
}
