/**
 * What comes before or after a task on a crew's sheet: the other task, whose it is and when. Once something is published,
 * a time is given only where it holds; of what may still move, the line gives the date and says that it is the forecast.
 */
import type { Job } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { civilDateAt, type CivilDate, type Minute } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import { findStanding, isHeld } from "./promised-reading.js";
import type { PublishedPromise } from "./promise.js";
import { instantOf, type Reading } from "./reading.js";
import { dayAndClock, endDayAndClock, shortDate, type Language } from "./spoken-time.js";
import { WORDS } from "./words.js";

/** A sheet as it is read: of which date, on which day, and beside what is published. */
export interface SheetRead {
  readonly reading: Reading;
  /** Undefined where nothing is published. */
  readonly promise: PublishedPromise | undefined;
  readonly date: CivilDate;
  readonly today: CivilDate;
  readonly language: Language;
}

/** "Wrap the left side: done by Birch", "Caulk: Cedar, Tue 8 Dec, 2:56 pm", "Caulk: Cedar, forecast Tue 8 Dec". */
export function sayNeighbour(sheet: SheetRead, job: Job, taskId: string): readonly string[] {
  const task = sheet.reading.task(job.id, taskId);
  if (task === undefined) return [];
  const title = taskTitle(task.title, task.area);
  if (task.status !== "done") return [`${title}: ${sayWhen(sheet, job, taskId)}`];
  const words = WORDS[sheet.language];
  const crew = task.doneBy === null ? undefined : sheet.reading.crews.get(task.doneBy);
  return [`${title}: ${crew === undefined ? words.done : words.doneBy(crew.name)}`];
}

function sayWhen(sheet: SheetRead, job: Job, taskId: string): string {
  const { reading, promise, language } = sheet;
  const words = WORDS[language];
  const planned = reading.planned(job.id, taskId);
  if (planned === undefined) return words.notPlanned;
  const { crew, start, end } = planned;
  const zone = zoneOfJob(reading.company, job);
  const dateAt = (at: Minute): string => shortDate(civilDateAt(at, zone), language);
  if (promise?.isPublished !== true) {
    return crew === null
      ? words.noCrew(endDayAndClock(end, zone, language))
      : words.by(crew.name, dayAndClock(start, zone, language));
  }
  // Days of crews are published, and never a wait.
  if (crew === null) return words.forecastNoCrew(dateAt(end - 1));
  const shown = findShown(sheet, job.id, taskId) ?? { crew: crew.id, start };
  const held = findHeldStart(sheet, promise, shown, job.id, taskId);
  const name = reading.crews.get(shown.crew)?.name ?? shown.crew;
  return held === undefined
    ? words.forecastBy(name, dateAt(shown.start))
    : words.by(name, dayAndClock(held, zone, language));
}

interface Start {
  readonly crew: string;
  readonly start: Minute;
}

/** Where crews' sheets have the task first, from now on, or from the sheet's own day where that has gone by. */
function findShown({ reading, date, today }: SheetRead, job: string, task: string): Start | undefined {
  const from = date < today ? date : today;
  return reading.plan.blocks
    .filter((block) => block.kind === "work" && block.job === job && block.task === task)
    .map((block) => ({ crew: block.crew, start: instantOf(block.start, reading.zone) }))
    .filter(({ start }) => civilDateAt(start, reading.zone) >= from)
    .toSorted((a, b) => a.start - b.start)[0];
}

/** When it is published to start that day; undefined where that does not hold. */
function findHeldStart(
  { reading, today }: SheetRead,
  promise: PublishedPromise,
  { crew, start }: Start,
  job: string,
  task: string,
): Minute | undefined {
  const date = civilDateAt(start, reading.zone);
  if (!isHeld(findStanding(promise, crew, date, today))) return undefined;
  const starts = promise
    .publishedOn(crew, date)
    .filter((block) => block.kind === "work" && block.job === job && block.task === task)
    .map((block) => instantOf(block.start, reading.zone));
  return starts.length === 0 ? undefined : Math.min(...starts);
}
