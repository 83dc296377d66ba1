/**
 * The day sheet: one crew, one day, for a phone on a roof. Start place and time first, then the light, then the day in
 * order with what comes before and after each task and by whom, and the next five days in a line each.
 * In English or Spanish; names and titles stay as the company wrote them.
 */
import { toLanguageChoice, type LanguageChoice } from "./language-choice.js";
import { DEFERRAL } from "../domain/cautions.js";
import type { Crew, Job } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { addDays, type CivilDate, type Minute } from "../domain/time.js";
import { holdsOfCrew, sayHold } from "./crew-holds.js";
import { listEntries, type EntryView } from "./day-sheet-entries.js";
import { findReportDay } from "./day-tasks.js";
import { geoUri } from "./geo-link.js";
import { buildGround } from "./light-ground.js";
import { listNextDays, type NextDayView } from "./next-days.js";
import type { PublishedPromise } from "./promise.js";
import { findStanding, isSheetPublished } from "./promised-reading.js";
import { instantOf, listHouses, type Reading } from "./reading.js";
import { clock, clockThere, duration, longDate, shortDate, type Language } from "./spoken-time.js";
import { sayStanding } from "./standing-words.js";
import { WORDS, type Words } from "./words.js";

export interface DaySheetView extends LanguageChoice {
  readonly words: Words;
  readonly crewId: string;
  readonly crewName: string;
  readonly lead: string;
  readonly date: CivilDate;
  readonly title: string;
  /** Whether the sheet is what was published, or a forecast: in a short sentence, with what is to be added, and both. */
  readonly standingLine: string;
  readonly standingMore: string;
  readonly standing: string;
  readonly isPublished: boolean;
  readonly isCalledOut: boolean;
  /** "Dune is not called out that day: training."; empty where it is. */
  readonly notCalledOut: string;
  readonly startTime: string;
  readonly startPlace: string;
  readonly startAddress: string;
  /** Where that is, as a link for the phone's own map; empty where no place is known. */
  readonly startGeo: string;
  /** "then to 14 Tern Lane", where the start is the yard. */
  readonly firstHouse: string;
  readonly sun: readonly { readonly label: string; readonly time: string }[];
  /** One for each house, in order. */
  readonly toolsDown: readonly { readonly label: string; readonly time: string }[];
  readonly lightLine: string;
  /** Those that concern the crew. */
  readonly holds: readonly string[];
  /** Equipment and deliveries of the whole day, each once. */
  readonly bring: readonly string[];
  readonly entries: readonly EntryView[];
  /** That the cautions are reminders, and who decides. */
  readonly deferral: string;
  readonly nextDays: readonly NextDayView[];
  readonly today: CivilDate;
  readonly tomorrow: CivilDate;
  /** Both by their dates, for a copy of the sheet that is read on a later day. */
  readonly todayByDate: string;
  readonly tomorrowByDate: string;
  /** The day on which the button at the bottom lets the crew report. */
  readonly reportDate: CivilDate;
  readonly reportWords: string;
}

/**
 * The sheet of a crew on a date; a day at home is a sheet too, and says so. `reading` shows what crews are to read;
 * without `promise`, nothing is published.
 */
export function buildDaySheetView(
  reading: Reading,
  crew: Crew,
  date: CivilDate,
  today: CivilDate,
  language: Language,
  promise?: PublishedPromise,
): DaySheetView {
  const words = WORDS[language];
  const blocks = reading.dayOf(crew.id, date);
  const first = blocks[0];
  const houses = listHouses(blocks);
  const firstHouse = houses[0];
  const startsAtYard = first !== undefined && (first.kind === "load" || first.kind === "travel");
  const off = crew.off.find((days) => days.from <= date && date <= days.to);
  const isPublished = (day: CivilDate): boolean =>
    promise !== undefined && isSheetPublished(findStanding(promise, crew.id, day, today));
  const standing = sayStanding(reading, promise, crew.id, { date, today }, language);
  const entries = listEntries({ reading, promise, date, today, language }, blocks);
  const start = startsAtYard ? reading.company.company.yard : (firstHouse?.site ?? null);
  const tomorrow = addDays(today, 1);
  const reportDate = findReportDay(reading, crew, date, today);

  return {
    ...toLanguageChoice(language, crew.language),
    words,
    crewId: crew.id,
    crewName: crew.name,
    lead: words.lead(crew.lead, crew.size),
    date,
    title: longDate(date, language),
    standingLine: standing.line,
    standingMore: standing.more,
    standing: [standing.line, standing.more].filter((text) => text !== "").join(" "),
    isPublished: isPublished(date),
    isCalledOut: first !== undefined,
    notCalledOut: first === undefined ? words.notCalledOutLong(crew.name, off?.why ?? "") : "",
    startTime: first === undefined ? "" : clockThere(first.start, first.zone, reading.zone, language),
    startPlace: startsAtYard ? words.atYard : (firstHouse?.name ?? ""),
    startAddress: firstHouse?.site.address ?? "",
    startGeo: start === null ? "" : geoUri(start),
    firstHouse: startsAtYard && firstHouse !== undefined ? words.thenTo(firstHouse.name) : "",
    sun: listSun(reading, firstHouse, date, language),
    toolsDown: listToolsDown(reading, crew, date, houses, language),
    lightLine: lightLine(reading, crew, date, houses, words),
    holds: holdsOfCrew(reading, crew, date).map((hold) => sayHold(reading, hold, language)),
    bring: [...new Set(entries.flatMap((entry) => entry.bring))],
    entries,
    deferral: DEFERRAL[language],
    nextDays: listNextDays(reading, crew, date, isPublished, language),
    today,
    tomorrow,
    todayByDate: shortDate(today, language),
    tomorrowByDate: shortDate(tomorrow, language),
    reportDate,
    reportWords: reportDate === date ? words.report : words.reportToday,
  };
}

function listSun(
  reading: Reading,
  house: Job | undefined,
  date: CivilDate,
  language: Language,
): readonly { label: string; time: string }[] {
  if (house === undefined) return [];
  const words = WORDS[language];
  const zone = zoneOfJob(reading.company, house);
  const ground = buildGround(reading.company, { name: house.name, ...house.site, zone }, date);
  const sun: { label: string; time: string }[] = [];
  const add = (label: string, at: Minute | null): void => {
    if (at !== null) sun.push({ label, time: clock(at, zone, language) });
  };
  const { first, last } = ground.light;
  if (first !== ground.sunrise) add(words.firstLight, first);
  add(first === ground.sunrise ? words.firstLightSun : words.sunUp, ground.sunrise);
  add(last === ground.sunset ? words.lastLightSun : words.sunSets, ground.sunset);
  if (last !== ground.sunset) add(words.lastLight, last);
  return sun;
}

function listToolsDown(
  reading: Reading,
  crew: Crew,
  date: CivilDate,
  houses: readonly Job[],
  language: Language,
): readonly { label: string; time: string }[] {
  const words = WORDS[language];
  return houses.flatMap((house) => {
    const at = reading.lightOf(crew.id, date, house.id)?.toolsDown;
    if (at == null) return [];
    const zone = zoneOfJob(reading.company, house);
    const label = houses.length === 1 ? words.toolsDownBy : words.toolsDownAt(house.name);
    return [{ label, time: clock(instantOf(at, zone), zone, language) }];
  });
}

function lightLine(
  reading: Reading,
  crew: Crew,
  date: CivilDate,
  houses: readonly Job[],
  words: Words,
): string {
  const last = houses.at(-1);
  const day = last && reading.lightOf(crew.id, date, last.id);
  if (day === undefined) return "";
  if (day.light === "all-day") return words.lightAllDay;
  if (day.light === "none" || day.lightInHandMinutes === null) return words.noLight;
  if (day.stretch) return words.stretch;
  return day.lightInHandMinutes >= 0
    ? words.inHand(duration(day.lightInHandMinutes))
    : words.darkTakes(duration(-day.lightInHandMinutes));
}
