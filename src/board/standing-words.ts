/**
 * Whether a crew's sheet is what was published or a forecast, in a sentence, and what the office has by now where that is
 * something else. In English and Spanish; a standing that lacks a language does not compile.
 */
import { zoneOfJob } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import type { DayComparison } from "./promised-day.js";
import { findStanding, type SheetStanding } from "./promised-reading.js";
import type { PublishedPromise } from "./promise.js";
import { instantOf, type Reading } from "./reading.js";
import { clock, shortDate, spanishHour, type Language } from "./spoken-time.js";

/** Where there is more to say: what the office has by now, or which work it is that is published. */
type ToldStanding = "times-moved" | "runs-over" | "drifted" | "work-holds" | "work-drifted";

export interface StandingWords {
  /** Short, for it stands before the start of the day. */
  readonly line: Readonly<Record<SheetStanding, string>>;
  /** With what has moved, which work the plan has later, or which pieces are published; the others take nothing. */
  readonly more: Readonly<Record<ToldStanding, (facts: string) => string>>;
  readonly nothingPublished: string;
  readonly startMoved: (clock: string) => string;
  readonly taskMoved: (task: string, clock: string) => string;
  readonly endMoved: (clock: string) => string;
  readonly quoted: (task: string) => string;
  readonly laterTasks: (tasks: string, date: string) => string;
  readonly piece: (task: string, house: string, from: string, to: string) => string;
  readonly others: (count: number) => string;
}

const en: StandingWords = {
  line: {
    published: "Published: this day holds.",
    "times-moved": "Published: this day holds.",
    "runs-over": "Published: this day holds.",
    drifted: "Published: this day holds.",
    "work-holds": "Forecast; some work is published.",
    "work-drifted": "Published: this work holds.",
    forecast: "Forecast: this day may still change.",
    released: "Forecast: the office has released this day, and it may still change.",
    unpublished: "Forecast: this day is not published yet and may still change.",
  },
  more: {
    "times-moved": (moved) =>
      `The office's plan has other times by now: ${moved}; until it publishes them, go by this sheet.`,
    "runs-over": (later) => `The office's forecast has ${later} by now: report how far you are.`,
    drifted: () =>
      "The office has another plan for this day by now; until it publishes that one, go by this sheet.",
    "work-holds": (pieces) =>
      `Published, and it holds: ${pieces}; all else on this sheet, its times too, may still change.`,
    "work-drifted": () =>
      "Only the work is published, not the way there and what comes around it. The office has another plan for this day by now; until it publishes that one, go by this sheet.",
  },
  nothingPublished: "Forecast: nothing is published yet, and this day may still change.",
  startMoved: (at) => `start at about ${at}`,
  taskMoved: (task, at) => `"${task}" from about ${at}`,
  endMoved: (at) => `end at about ${at}`,
  quoted: (task) => `"${task}"`,
  laterTasks: (tasks, date) => `${tasks} on ${date}`,
  piece: (task, house, from, to) => `"${task}" at ${house}, ${from} to ${to}`,
  others: (count) => `and ${count} more`,
};

const es: StandingWords = {
  line: {
    published: "Publicado: este día es firme.",
    "times-moved": "Publicado: este día es firme.",
    "runs-over": "Publicado: este día es firme.",
    drifted: "Publicado: este día es firme.",
    "work-holds": "Pronóstico; parte es firme.",
    "work-drifted": "Publicado: este trabajo es firme.",
    forecast: "Pronóstico: este día aún puede cambiar.",
    released: "Pronóstico: la oficina soltó este día y aún puede cambiar.",
    unpublished: "Pronóstico: este día aún no está publicado y puede cambiar.",
  },
  more: {
    "times-moved": (moved) =>
      `El plan de la oficina ya tiene otras horas: ${moved}; hasta que las publique, sigan esta hoja.`,
    "runs-over": (later) => `El pronóstico de la oficina ya tiene ${later}: avisen cuánto les falta.`,
    drifted: () => "La oficina ya tiene otro plan para este día; hasta que lo publique, sigan esta hoja.",
    "work-holds": (pieces) =>
      `Publicado y firme: ${pieces}; todo lo demás de esta hoja, también sus horas, aún puede cambiar.`,
    "work-drifted": () =>
      "Solo el trabajo está publicado, no el camino ni lo que va alrededor. La oficina ya tiene otro plan para este día; hasta que lo publique, sigan esta hoja.",
  },
  nothingPublished: "Pronóstico: aún no hay nada publicado y este día puede cambiar.",
  startMoved: (at) => `inicio a eso de ${spanishHour(at)}`,
  taskMoved: (task, at) => `«${task}» desde eso de ${spanishHour(at)}`,
  endMoved: (at) => `fin a eso de ${spanishHour(at)}`,
  quoted: (task) => `«${task}»`,
  laterTasks: (tasks, date) => `${tasks} para el ${date}`,
  piece: (task, house, from, to) => `«${task}» en ${house}, de ${spanishHour(from)} a ${spanishHour(to)}`,
  others: (count) => `y ${count} más`,
};

export const STANDING_WORDS = { en, es } as const satisfies Record<Language, StandingWords>;

export interface StandingSaid {
  readonly line: string;
  /** Empty where nothing is to be added. */
  readonly more: string;
}

/** Of a crew's sheet of a date; `reading` is the plan's or the crews'. */
export function sayStanding(
  reading: Reading,
  promise: PublishedPromise | undefined,
  crew: string,
  { date, today }: { readonly date: CivilDate; readonly today: CivilDate },
  language: Language,
): StandingSaid {
  const words = STANDING_WORDS[language];
  if (promise?.isPublished !== true) return { line: words.nothingPublished, more: "" };
  const standing = findStanding(promise, crew, date, today);
  const line = words.line[standing];
  switch (standing) {
    case "published":
    case "forecast":
    case "released":
    case "unpublished":
      return { line, more: "" };
    case "drifted":
    case "work-drifted":
      return { line, more: words.more[standing]("") };
    case "times-moved":
      return { line, more: words.more[standing](sayMoved(reading, promise.compare(crew, date), language)) };
    case "runs-over":
      return { line, more: words.more[standing](sayLater(reading, promise.compare(crew, date), language)) };
    case "work-holds": {
      const pieces = listPieces(reading, promise, crew, date, language);
      // What is done holds nothing any more.
      return pieces.length === 0
        ? { line: words.line.forecast, more: "" }
        : { line, more: words.more[standing](joinFew(pieces, words, "; ")) };
    }
  }
}

/** By date, the soonest first. */
function sayLater(reading: Reading, { laterWork }: DayComparison, language: Language): string {
  const words = STANDING_WORDS[language];
  const dates = [...new Set(laterWork.map(({ date }) => date))].sort();
  return dates
    .map((date) => {
      const titles = laterWork
        .filter((later) => later.date === date)
        .flatMap(({ job, task }) => titleOf(reading, job, task) ?? []);
      return words.laterTasks(joinFew(titles.map(words.quoted), words, ", "), shortDate(date, language));
    })
    .join("; ");
}

function sayMoved(reading: Reading, { movedTime }: DayComparison, language: Language): string {
  if (movedTime === null) return "";
  const words = STANDING_WORDS[language];
  const { what, at } = movedTime;
  if (what === "start") return words.startMoved(clock(at, reading.zone, language));
  if (what === "end") return words.endMoved(clock(at, reading.zone, language));
  const job = reading.jobs.get(what.job);
  const zone = job === undefined ? reading.zone : zoneOfJob(reading.company, job);
  return words.taskMoved(titleOf(reading, what.job, what.task) ?? "", clock(at, zone, language));
}

/** The pieces of work that are published for a crew's day and not done, each task once. */
function listPieces(
  reading: Reading,
  promise: PublishedPromise,
  crew: string,
  date: CivilDate,
  language: Language,
): readonly string[] {
  const times = new Map<string, { job: string; task: string; start: number; end: number }>();
  for (const { kind, job, task, start, end } of promise.publishedOn(crew, date)) {
    if (kind !== "work" || job === null || task === null) continue;
    if (reading.task(job, task)?.status === "done") continue;
    const [from, to] = [instantOf(start, reading.zone), instantOf(end, reading.zone)];
    const known = times.get(`${job}/${task}`);
    if (known === undefined) times.set(`${job}/${task}`, { job, task, start: from, end: to });
    else {
      known.start = Math.min(known.start, from);
      known.end = Math.max(known.end, to);
    }
  }
  return [...times.values()].flatMap(({ job: jobId, task, start, end }) => {
    const job = reading.jobs.get(jobId);
    const title = titleOf(reading, jobId, task);
    if (job === undefined || title === undefined) return [];
    const zone = zoneOfJob(reading.company, job);
    const [from, to] = [clock(start, zone, language), clock(end, zone, language)];
    return [STANDING_WORDS[language].piece(title, job.name, from, to)];
  });
}

function titleOf(reading: Reading, job: string, taskId: string): string | undefined {
  const task = reading.task(job, taskId);
  return task === undefined ? undefined : taskTitle(task.title, task.area);
}

const MOST = 3;

/** All of them, or the first ones and how many there are beside. */
function joinFew(items: readonly string[], words: StandingWords, separator: string): string {
  if (items.length <= MOST) return items.join(separator);
  return `${items.slice(0, MOST - 1).join(separator)} ${words.others(items.length - MOST + 1)}`;
}
