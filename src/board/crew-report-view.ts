/**
 * The page on which a crew reports from site: what it has said today, its tasks with a button for each thing to say, and
 * the day as a whole. Each form has a key of its own, so that what is sent twice is taken once.
 */
import { toLanguageChoice, type LanguageChoice } from "./language-choice.js";
import { zoneOfJob, type Crew } from "../domain/company-schema.js";
import { DAMAGE_KINDS, DAMAGE_UNITS, STUCK_REASONS, type SiteReport } from "../domain/site-report.js";
import { addDays, civilDateAt, minuteOfDate, parseInstant, type CivilDate } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import { listReportTasks, type DayTask } from "./day-tasks.js";
import type { Reading } from "./reading.js";
import { aboutWords, saidWords } from "./report-said.js";
import { REPORT_WORDS, type ReportWords } from "./report-words.js";
import { clock, dayAndClock, longDate, shortDate, type Language } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";

/** A report that is kept. */
export type KeptReport = Pick<
  SiteReport,
  | "id"
  | "key"
  | "date"
  | "jobId"
  | "taskId"
  | "body"
  | "saidAt"
  | "meets"
  | "met"
  | "settledAt"
  | "isTakenBack"
>;

/** A report as the crew reads it. */
export interface SaidView {
  readonly id: number;
  readonly key: string;
  readonly time: string;
  readonly words: string;
  readonly about: string;
  readonly note: string;
  readonly state: string;
  /** What a photo of it is of: `house/task`; empty where it is about the day. */
  readonly photoOf: string;
}

export interface Choice {
  readonly value: string;
  readonly words: string;
}

/** A form of its own each; `typed` is the second one for hours left. */
type TaskForm = "start" | "done" | "hours-left" | "typed" | "stuck" | "damage";

export interface TaskReportView {
  /** From 1, as the day sheet links to it. */
  readonly number: number;
  readonly jobId: string;
  readonly taskId: string;
  readonly title: string;
  readonly house: string;
  readonly area: string;
  readonly stamp: StampView;
  readonly state: string;
  readonly canStart: boolean;
  readonly canFinish: boolean;
  /** "Side the front, 14 Spruce Lane": what each thing said is about. */
  readonly about: string;
  readonly keys: Readonly<Record<TaskForm, string>>;
  /** How much may be left: of the crew, and in labor-hours, which is what is sent. */
  readonly hours: readonly (Choice & { readonly labor: string })[];
}

/** A form that could not be taken: what was typed, and what is wrong with it. */
export interface ReturnedReport {
  readonly kind: string;
  readonly job: string;
  readonly task: string;
  readonly values: Readonly<Record<string, string>>;
  readonly faults: readonly { readonly field: string | undefined; readonly sentence: string }[];
}

export interface CrewReportView extends LanguageChoice {
  readonly words: ReportWords;
  readonly crewId: string;
  readonly crewName: string;
  readonly crewSize: number;
  readonly date: CivilDate;
  /** The day in full. */
  readonly title: string;
  /** "Report"; on another day "Report for Tue 8 Dec". */
  readonly heading: string;
  readonly saidHeading: string;
  /** Whether that day is still to come, or over: other things are said of it then. */
  readonly isAhead: boolean;
  readonly isOver: boolean;
  readonly stuckHint: string;
  readonly onTheDayHint: string;
  /** The page of today, or on that the one of tomorrow. */
  readonly otherDay: { readonly date: CivilDate; readonly words: string };
  /** What each form carries, so that it is known what the page showed. */
  readonly seen: string;
  readonly said: readonly SaidView[];
  /** The report that has just been taken. */
  readonly taken: SaidView | null;
  readonly tasks: readonly TaskReportView[];
  readonly reasons: readonly Choice[];
  readonly damageKinds: readonly Choice[];
  readonly units: readonly Choice[];
  readonly day: {
    readonly heading: string;
    readonly about: string;
    readonly stretchKey: string;
    readonly shortKey: string;
    /** How many may be missing. */
    readonly missing: readonly Choice[];
  };
  readonly returned: ReturnedReport | null;
}

export interface CrewReportFacts {
  /** What the crew reads. */
  readonly reading: Reading;
  readonly crew: Crew;
  readonly date: CivilDate;
  readonly today: CivilDate;
  readonly language: Language;
  readonly version: number;
  /** Of the crew's day, newest first. */
  readonly reports: readonly KeptReport[];
  /** The key of the report that has just been sent. */
  readonly takenKey: string;
  readonly returned: ReturnedReport | null;
  readonly makeKey: () => string;
}

/** How long a crew may still need, in hours of all of it. */
const CREW_HOURS = [0.5, 1, 2, 4, 8] as const;
const MOST_MISSING_OFFERED = 6;

export function buildCrewReportView(facts: CrewReportFacts): CrewReportView {
  const { reading, crew, date, today, language, reports, makeKey } = facts;
  const words = REPORT_WORDS[language];
  const day = shortDate(date, language);
  const isToday = date === today;
  const otherDate = isToday ? addDays(today, 1) : today;
  const said = reports.map((report) => buildSaid(reading, report, date, language));
  const choices = (values: readonly string[], named: Readonly<Record<string, string>>): readonly Choice[] =>
    values.map((value) => ({ value, words: named[value] ?? value }));
  const missing = Array.from(
    { length: Math.min(crew.size - 1, MOST_MISSING_OFFERED) },
    (_, index) => index + 1,
  );
  return {
    ...toLanguageChoice(language, crew.language),
    words,
    crewId: crew.id,
    crewName: crew.name,
    crewSize: crew.size,
    date,
    title: longDate(date, language),
    heading: isToday ? words.title : words.titleFor(day),
    saidHeading: isToday ? words.saidToday : words.saidFor(day),
    isAhead: date > today,
    isOver: date < today,
    stuckHint: isToday ? words.stuckHint : words.stuckHintFor(day),
    onTheDayHint: words.onTheDayHint(day),
    otherDay: { date: otherDate, words: words.titleFor(shortDate(otherDate, language)) },
    seen: String(facts.version),
    said,
    taken: said.find(({ key }) => key === facts.takenKey) ?? null,
    tasks: listReportTasks(reading, crew, date, today).map((item, index) =>
      buildTask(facts, item, index + 1),
    ),
    reasons: choices(STUCK_REASONS, words.reasons),
    damageKinds: choices([...DAMAGE_KINDS, "other"], words.damageKinds),
    units: choices(DAMAGE_UNITS, words.units),
    day: {
      heading: isToday ? words.ofTheDay : words.ofThatDay(day),
      about: longDate(date, language),
      stretchKey: makeKey(),
      shortKey: makeKey(),
      missing: missing.map((count) => ({ value: String(count), words: words.people(count) })),
    },
    returned: facts.returned,
  };
}

/** What has been said, as the crew reads it on the page of `date`. */
function buildSaid(reading: Reading, report: KeptReport, date: CivilDate, language: Language): SaidView {
  const words = REPORT_WORDS[language];
  const minute = minuteOfDate(report.saidAt);
  const job = report.jobId === null ? undefined : reading.jobs.get(report.jobId);
  const zone = job === undefined ? reading.zone : zoneOfJob(reading.company, job);
  const about = aboutWords(reading.company, report);
  const otherDay = report.date === date ? "" : shortDate(report.date, language);
  const isSaidThen = civilDateAt(minute, zone) === date;
  return {
    id: report.id,
    key: report.key,
    time: isSaidThen ? clock(minute, zone, language) : dayAndClock(minute, zone, language),
    words: saidWords(report.body, language),
    about: [about, otherDay].filter((part) => part !== "").join(" · "),
    note: report.body.note,
    state: report.isTakenBack
      ? words.takenBack
      : report.settledAt !== null
        ? words.settled
        : [words.withOffice, ...sayMet(report, words)].join(" "),
    photoOf: report.jobId === null || report.taskId === null ? "" : `${report.jobId}/${report.taskId}`,
  };
}

/** Why the forecast could not simply take it in. */
function sayMet({ met, meets }: KeptReport, words: ReportWords): readonly string[] {
  if (met.length > 0) return met.map((one) => words.met[one]);
  return meets === null ? [] : [words.officeLooks];
}

function buildTask({ reading, crew, language, makeKey }: CrewReportFacts, at: DayTask, number: number) {
  const { job, task } = at;
  const words = REPORT_WORDS[language];
  const title = taskTitle(task.title, task.area);
  const pace = task.trade === null ? 1 : (crew.trades[task.trade] ?? 1);
  return {
    number,
    jobId: job.id,
    taskId: task.id,
    title,
    house: job.name,
    area: task.area ?? "",
    stamp: stampOf(reading.company.trades, task.trade),
    state: stateOf(reading, at, language),
    canStart: task.status === "to-do",
    canFinish: task.status !== "done",
    about: words.atHouse(title, job.name),
    keys: {
      start: makeKey(),
      done: makeKey(),
      "hours-left": makeKey(),
      typed: makeKey(),
      stuck: makeKey(),
      damage: makeKey(),
    },
    hours: CREW_HOURS.map((hours) => {
      const labor = Math.round(hours * crew.size * pace * 100) / 100;
      return { value: String(labor), words: words.crewTime(hours), labor: words.laborHours(labor) };
    }),
  } satisfies TaskReportView;
}

/** "under way, Tue 8 Dec, 7:20 am"; "done, …". */
function stateOf(reading: Reading, { job, task }: DayTask, language: Language): string {
  const zone = zoneOfJob(reading.company, job);
  const text = task.status === "done" ? task.finishedAt : task.startedAt;
  const at = text === null || task.status === "to-do" ? undefined : parseInstant(text, zone);
  const state = REPORT_WORDS[language].status[task.status];
  return at === undefined ? state : `${state}, ${dayAndClock(at, zone, language)}`;
}
