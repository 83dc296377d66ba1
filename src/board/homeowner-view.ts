/**
 * What the people who live in a house see by their link: who comes next, on which days, and what is waited for. Trades in
 * plain words under the company's name. Nothing of other houses, of crews and their phones, of money, and no reason in the
 * office's own words, which may speak of any of these.
 */
import type { Hold, Job } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { civilDate, civilDateAt, dayStart, type CivilDate } from "../domain/time.js";
import { finishDate } from "./cost-view.js";
import { holdTimes } from "./hold-view.js";
import { HOMEOWNER_WORDS, type HomeownerWords } from "./homeowner-words.js";
import type { PublishedPromise } from "./promise.js";
import { findStanding } from "./promised-reading.js";
import { instantOf, type DayBlock, type Reading } from "./reading.js";
import { clock, longDate, OTHER_LANGUAGE, shortDate, type Language } from "./spoken-time.js";

export interface HomeDayView {
  /** "Tuesday 8 December". */
  readonly day: string;
  /** "Siding, caulk and paint". */
  readonly work: string;
  /** "from 7:10 am"; empty where the day is only expected. */
  readonly from: string;
  /** "promised", "expected". */
  readonly mark: string;
  readonly isPromised: boolean;
}

export interface HomeownerView {
  readonly language: Language;
  readonly otherLanguage: Language;
  readonly words: HomeownerWords;
  readonly houseName: string;
  readonly companyName: string;
  /** "Next: siding, on Tuesday 8 December, by Harbor Exteriors." */
  readonly next: string;
  readonly days: readonly HomeDayView[];
  /** Days beyond those that are listed, in a sentence; empty where there are none. */
  readonly moreDays: string;
  readonly waiting: readonly string[];
  /** When all is expected to be done; empty where that cannot be said. */
  readonly finish: string;
  /** Until when it was promised; empty where nothing was. */
  readonly promised: string;
}

const MOST_DAYS = 15;

/** `reading` shows what crews read: what is published, and beyond that the plan. */
export function buildHomeownerView(
  reading: Reading,
  job: Job,
  today: CivilDate,
  language: Language,
  promise: PublishedPromise,
): HomeownerView {
  const words = HOMEOWNER_WORDS[language];
  const { company } = reading;
  const days = listDays(reading, job, today, language, promise);
  const [first] = days;
  const isDone = job.tasks.every(({ status }) => status === "done");
  const finish = isDone ? undefined : finishDate(reading, job);
  return {
    language,
    otherLanguage: OTHER_LANGUAGE[language],
    words,
    houseName: job.name,
    companyName: company.company.name,
    next: isDone
      ? words.allDone
      : first === undefined
        ? words.nobodyYet
        : words.next(first.work, first.day, company.company.name),
    days: days.slice(0, MOST_DAYS),
    moreDays: days.length > MOST_DAYS ? words.moreDays(days.length - MOST_DAYS) : "",
    waiting: isDone ? [] : listWaiting(reading, job, today, language),
    finish: finish === undefined ? "" : words.finish(longDate(finish, language)),
    promised: job.promised === null ? "" : words.promisedFor(longDate(civilDate(job.promised), language)),
  };
}

function listDays(
  reading: Reading,
  job: Job,
  today: CivilDate,
  language: Language,
  promise: PublishedPromise,
): readonly HomeDayView[] {
  const words = HOMEOWNER_WORDS[language];
  const zone = zoneOfJob(reading.company, job);
  const blocksOf = new Map<CivilDate, DayBlock[]>();
  for (const { id } of reading.company.crews) {
    for (const date of reading.datesOf(id)) {
      if (date < today) continue;
      const here = reading.dayOf(id, date).filter((block) => block.job === job && isAtHouse(block));
      if (here.some(({ kind }) => kind === "work"))
        blocksOf.set(date, [...(blocksOf.get(date) ?? []), ...here]);
    }
  }
  return [...blocksOf]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([date, blocks]) => {
      // A day is promised when all who come are.
      const isPromised = blocks.every(({ crew }) => {
        const standing = findStanding(promise, crew, date, today);
        return standing === "published" || standing === "drifted";
      });
      const trades = blocks.flatMap(({ task }) => {
        const name = reading.trades.get(task?.trade ?? "")?.name[language];
        return name === undefined ? [] : [name];
      });
      const start = Math.min(...blocks.map((block) => block.start));
      return {
        day: longDate(date, language),
        work: [...new Set(trades)].join(", "),
        from: isPromised ? words.from(clock(start, zone, language)) : "",
        mark: isPromised ? words.isPromised : words.isExpected,
        isPromised,
      };
    });
}

/** Driving to the house is not being there. */
const isAtHouse = ({ kind }: DayBlock): boolean => kind !== "load" && kind !== "travel" && kind !== "break";

function listWaiting(reading: Reading, job: Job, today: CivilDate, language: Language): readonly string[] {
  const words = HOMEOWNER_WORDS[language];
  const { company } = reading;
  const zone = zoneOfJob(company, job);
  const deliveries = job.deliveries
    .filter(({ received }) => !received)
    .map(({ what, expected }) => words.delivery(what, shortDate(civilDate(expected), language)));
  const waits = job.tasks
    .filter(({ trade, status }) => trade === null && status !== "done")
    .map(({ id, title }) => {
      const planned = reading.planned(job.id, id);
      // A wait ends at the midnight after its last day.
      const until =
        planned === undefined ? undefined : shortDate(civilDateAt(planned.end - 1, zone), language);
      return until === undefined ? title : words.wait(title, until);
    });
  const openTrades = new Set(job.tasks.flatMap(({ trade, status }) => (status === "done" ? [] : [trade])));
  const from = dayStart(today, company.company.timeZone);
  const concernsHouse = ({ jobs, trades, to }: Hold): boolean =>
    (jobs === "all" || jobs.includes(job.id)) &&
    (trades === "all" || trades === "outdoor" || trades.some((id) => openTrades.has(id))) &&
    instantOf(to, company.company.timeZone) > from;
  const holds = company.holds.filter(concernsHouse).map((hold) => {
    const when = holdTimes(company, hold, language);
    return hold.trades === "outdoor" || hold.source === "forecast" ? words.weather(when) : words.hold(when);
  });
  return [...deliveries, ...waits, ...holds];
}
