/**
 * The entries of a day sheet: each block of the day in order, with what a crew must know at that point and no sooner.
 * A task tells what comes before and after it the first time that it appears on the sheet.
 */
import { listCautions } from "../domain/cautions.js";
import type { Job, Task } from "../domain/company-schema.js";
import { listEndOfDay } from "../domain/end-of-day.js";
import { present } from "../domain/result.js";
import { addDays, civilDate, type CivilDate } from "../domain/time.js";
import { isTradeId } from "../domain/trade-catalogue.js";
import { tradeSteps } from "../domain/trade-steps.js";
import { taskTitle } from "./board-tags.js";
import { driveMiles } from "./distance.js";
import { geoUri } from "./geo-link.js";
import { holdsOn } from "./hold-view.js";
import { sayNeighbour, type SheetRead } from "./neighbour-line.js";
import type { DayBlock, Reading } from "./reading.js";
import { clock, clockThere, duration, shortDate, type Language } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";
import { weatherSaid, type WeatherSaid } from "./weather-said.js";
import { WORDS } from "./words.js";

export interface EntryView {
  readonly kind: DayBlock["kind"];
  readonly time: string;
  readonly until: string;
  readonly length: string;
  readonly title: string;
  /** The house, where it is another than that of the entry before. */
  readonly place: string;
  readonly address: string;
  /** Of a drive, where it goes, as a link for the phone's own map; empty where no place is known. */
  readonly geo: string;
  readonly stamp: StampView | null;
  readonly trade: string;
  readonly units: string;
  readonly goesOn: boolean;
  readonly why: string;
  readonly steps: readonly { readonly text: string; readonly reason: string }[];
  readonly before: readonly string[];
  readonly after: readonly string[];
  readonly bring: readonly string[];
  readonly checklist: readonly string[];
  /** Of work, its number on the page for reports (day-tasks.ts); null of anything else. */
  readonly report: number | null;
  /** At the first entry at a house: the usual cautions for the day's work there. */
  readonly cautions: readonly { readonly text: string; readonly rule: string }[];
}

/** The entries of a crew's day. */
export function listEntries(sheet: SheetRead, blocks: readonly DayBlock[]): readonly EntryView[] {
  const { reading, date, language } = sheet;
  let house: Job | null = null;
  return blocks.map((block, index) => {
    const isNewPlace =
      block.job !== null && block.job !== house && block.kind !== "travel" && block.kind !== "load";
    if (isNewPlace) house = block.job;
    const entry: EntryView = {
      kind: block.kind,
      time: clockThere(block.start, block.zone, reading.zone, language),
      until: clock(block.end, block.zone, language),
      length: duration(block.end - block.start),
      title: plainTitle(reading, blocks, index, language),
      place: isNewPlace ? (block.job?.name ?? "") : "",
      address: isNewPlace ? (block.job?.site.address ?? "") : "",
      geo: block.kind === "travel" ? geoOfDrive(reading, blocks, index) : "",
      stamp: null,
      trade: "",
      units: "",
      goesOn: false,
      why: "",
      steps: [],
      before: [],
      after: [],
      bring: [],
      report: block.kind === "work" ? reportNumber(blocks, block) : null,
      checklist: block.kind === "cleanup" ? endOfDay(reading, blocks, block, date, language) : [],
      cautions:
        isNewPlace && block.job !== null ? cautionsAt(reading, blocks, block.job, date, language) : [],
    };
    return block.kind === "work" ? { ...entry, ...workParts(sheet, blocks, index) } : entry;
  });
}

/** As day-tasks.ts counts them: each task of the day once, in order. */
function reportNumber(blocks: readonly DayBlock[], { task }: DayBlock): number {
  const worked = blocks.filter((block) => block.kind === "work" && block.job !== null && block.task !== null);
  return [...new Set(worked.map((block) => block.task))].indexOf(task) + 1;
}

function plainTitle(
  reading: Reading,
  blocks: readonly DayBlock[],
  index: number,
  language: Language,
): string {
  const words = WORDS[language];
  const titles = {
    load: () => words.load,
    travel: () => {
      const { miles, end } = driveMiles(reading.company, blocks, index, language);
      return end === "to-yard" ? words.driveToYard(miles) : words.drive(miles);
    },
    setup: () => words.setup,
    work: () => "",
    break: () => words.break,
    "cover-up": () => words.coverUp,
    cleanup: () => words.cleanup,
  } satisfies Record<DayBlock["kind"], () => string>;
  return titles[present(blocks[index], "a block of the day").kind]();
}

function workParts(sheet: SheetRead, blocks: readonly DayBlock[], index: number): Partial<EntryView> {
  const { reading, language } = sheet;
  const words = WORDS[language];
  const block = present(blocks[index], "a block of the day");
  const job = present(block.job, "the house of a work block");
  const task = present(block.task, "the task of a work block");
  const goesOn = blocks.slice(0, index).some((earlier) => earlier.task === task && earlier.job === job);
  const parts = {
    title: taskTitle(task.title, task.area),
    stamp: stampOf(reading.company.trades, task.trade),
    trade: reading.trades.get(task.trade ?? "")?.name[language] ?? "",
    units:
      block.units === null || task.units === 1 ? "" : words.unit(block.units[0], block.units[1], task.units),
    goesOn,
  };
  if (goesOn) return parts;
  return {
    ...parts,
    why: reading.planned(job.id, task.id)?.because.text[language] ?? "",
    steps: stepsOf(task.trade, language),
    before: task.after.flatMap((link) => sayNeighbour(sheet, job, link.task)),
    after: job.tasks
      .filter((other) => other.after.some((link) => link.task === task.id))
      .flatMap((other) => sayNeighbour(sheet, job, other.id)),
    bring: listBring(reading, job, task, language),
  };
}

/** Equipment that the task holds, and deliveries that it needs with where they are. */
function listBring(reading: Reading, job: Job, task: Task, language: Language): readonly string[] {
  const words = WORDS[language];
  const equipment = Object.entries(task.equipment).map(([id, count]) => {
    const name = reading.company.equipment.find((item) => item.id === id)?.name ?? id;
    return count === 1 ? name : `${count} × ${name}`;
  });
  const deliveries = task.needs.flatMap((id) => {
    const delivery = job.deliveries.find((item) => item.id === id);
    if (delivery === undefined) return [];
    const where = delivery.received
      ? words.onSite
      : words.expected(shortDate(civilDate(delivery.expected), language));
    return [`${delivery.what}: ${where}`];
  });
  return [...equipment, ...deliveries];
}

/** The steps of a catalogue trade; a company's own trade has none. */
function stepsOf(trade: string | null, language: Language): EntryView["steps"] {
  if (trade === null || !isTradeId(trade)) return [];
  return tradeSteps[trade].map(({ step, why }) => ({ text: step[language], reason: why[language] }));
}

/** What is not known of the day (height, where the lines run) counts as the cautions themselves say. */
function cautionsAt(
  reading: Reading,
  blocks: readonly DayBlock[],
  house: Job,
  date: CivilDate,
  language: Language,
): EntryView["cautions"] {
  const worked = blocks.flatMap((block) => (block.job === house ? [block.task?.trade ?? null] : []));
  const tradeIds = [...new Set(worked.filter((trade) => trade !== null))];
  const situation = { tradeIds, yearBuilt: house.yearBuilt, ...weatherAt(reading, house, [date]) };
  return listCautions(situation).map(({ text, rule }) => ({ text: text[language], rule: rule[language] }));
}

/** What stays behind stands through the night and the day after, so the wind of both counts. */
function endOfDay(
  reading: Reading,
  blocks: readonly DayBlock[],
  cleanup: DayBlock,
  date: CivilDate,
  language: Language,
): readonly string[] {
  const openWall = blocks.some((block) => block.kind === "cover-up" && block.job === cleanup.job);
  const { gustMph } = weatherAt(reading, cleanup.job, [date, addDays(date, 1)]);
  return listEndOfDay({ openWall, gustMph }).map((item) => item.text[language]);
}

function weatherAt(reading: Reading, house: Job | null, dates: readonly CivilDate[]): WeatherSaid {
  const holds = dates.flatMap((date) => holdsOn(reading.company, date));
  return weatherSaid(
    holds.filter(({ jobs }) => jobs === "all" || (house !== null && jobs.includes(house.id))),
  );
}

function geoOfDrive(reading: Reading, blocks: readonly DayBlock[], index: number): string {
  const { to } = driveMiles(reading.company, blocks, index, "en");
  return to === null ? "" : geoUri(to);
}
