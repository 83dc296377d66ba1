/**
 * What the people who live in a house see by their link: who comes next, on which days, and what is waited for. Trades in
 * plain words under the company's name. Nothing of other houses, of crews and their phones, of money, and no reason in the
 * office's own words, which may speak of any of these.
 */
import type { BlockKind, Hold, Job, Task } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { civilDate, civilDateAt, dayStart, type CivilDate, type Minute } from "../domain/time.js";
import { isAtHouse, stopsTrade } from "../weather/hold-list.js";
import { finishDate } from "./cost-view.js";
import { holdsOn, holdTimes } from "./hold-view.js";
import { HOMEOWNER_WORDS, within, type HomeownerWords } from "./homeowner-words.js";
import type { PublishedPromise } from "./promise.js";
import { isPromisedAt } from "./promised-reading.js";
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

/** When it is looked at; `today` is the date of the company's zone. */
interface Moment {
  readonly today: CivilDate;
  readonly nowMinute: Minute;
}

const MOST_DAYS = 15;

/** `reading` shows what crews read: what is published, and beyond that the plan. */
export function buildHomeownerView(
  reading: Reading,
  job: Job,
  moment: Moment,
  language: Language,
  promise: PublishedPromise,
): HomeownerView {
  const words = HOMEOWNER_WORDS[language];
  const { company } = reading;
  const days = listDays(reading, job, moment, language, promise);
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
    waiting: isDone ? [] : listWaiting(reading, job, moment, language),
    finish: finish === undefined ? "" : words.finish(longDate(finish, language)),
    promised: job.promised === null ? "" : words.promisedFor(longDate(civilDate(job.promised), language)),
  };
}

function listDays(
  reading: Reading,
  job: Job,
  { today, nowMinute }: Moment,
  language: Language,
  promise: PublishedPromise,
): readonly HomeDayView[] {
  const words = HOMEOWNER_WORDS[language];
  const zone = zoneOfJob(reading.company, job);
  return listWork(reading, job)
    .filter(({ blocks }) => blocks.some(({ end }) => end > nowMinute))
    .map(({ date, blocks }) => {
      const crews = [...new Set(blocks.map(({ crew }) => crew))];
      // A day is promised when all who come are.
      const isPromised = crews.every((crew) => isPromisedAt(promise, { crew, job: job.id }, date, today));
      const trades = blocks.flatMap(({ task }) => {
        const name = reading.trades.get(task?.trade ?? "")?.name[language];
        return name === undefined ? [] : [name];
      });
      return {
        day: longDate(date, language),
        work: [...new Set(trades)].map((name, place) => (place === 0 ? name : within(name))).join(", "),
        from: isPromised
          ? words.from(clock(publishedStart(reading, job, crews, date, promise), zone, language))
          : "",
        mark: isPromised ? words.isPromised : words.isExpected,
        isPromised,
      };
    });
}

interface HouseDay {
  readonly date: CivilDate;
  /** At the house, of all crews, in order of time; at least one of work. */
  readonly blocks: readonly DayBlock[];
}

/** The days on which somebody works at the house, in order. */
function listWork(reading: Reading, job: Job): readonly HouseDay[] {
  const blocksOf = new Map<CivilDate, DayBlock[]>();
  for (const { id } of reading.company.crews) {
    for (const date of reading.datesOf(id)) {
      const here = reading.dayOf(id, date).filter((block) => block.job === job && isThere(block.kind));
      if (here.some(({ kind }) => kind === "work"))
        blocksOf.set(date, [...(blocksOf.get(date) ?? []), ...here]);
    }
  }
  return [...blocksOf]
    .map(([date, blocks]) => ({ date, blocks: blocks.sort((a, b) => a.start - b.start || a.end - b.end) }))
    .sort((a, b) => (a.date < b.date ? -1 : 1));
}

/** Driving to the house is not being there. */
function isThere(kind: BlockKind): boolean {
  return kind !== "load" && kind !== "travel" && kind !== "break";
}

/** When the first of them is there, as it was published. */
function publishedStart(
  { zone }: Reading,
  job: Job,
  crews: readonly string[],
  date: CivilDate,
  promise: PublishedPromise,
): Minute {
  const here = crews
    .flatMap((crew) => promise.publishedOn(crew, date))
    .filter((block) => block.job === job.id && isThere(block.kind));
  return Math.min(...here.map(({ start }) => instantOf(start, zone)));
}

/** What is waited for, the soonest first. */
function listWaiting(
  reading: Reading,
  job: Job,
  { today, nowMinute }: Moment,
  language: Language,
): readonly string[] {
  const words = HOMEOWNER_WORDS[language];
  const { company } = reading;
  const zone = zoneOfJob(company, job);
  const open = job.tasks.filter(({ status }) => status !== "done");
  const deliveries = job.deliveries
    .filter(({ id, received }) => !received && open.some(({ needs }) => needs.includes(id)))
    .map(({ what, expected }) => {
      const date = civilDate(expected);
      const say = date < today ? words.lateDelivery : words.delivery;
      return { at: dayStart(date, zone), said: say(what, shortDate(date, language)) };
    });
  const waits = open
    .filter(({ trade }) => trade === null)
    .map(({ id, title }) => {
      const planned = reading.planned(job.id, id);
      if (planned === undefined) return { at: Infinity, said: title };
      // A wait ends at the midnight after its last day.
      const until = shortDate(civilDateAt(planned.end - 1, zone), language);
      return { at: planned.end, said: words.wait(title, until) };
    });
  const holds = listHolds(reading, job, open, nowMinute).map((hold) => ({
    at: instantOf(hold.from, company.company.timeZone),
    said: sayHold(reading, hold, open, language),
  }));
  return [...deliveries, ...waits, ...holds].toSorted((a, b) => a.at - b.at).map(({ said }) => said);
}

/** The holds that keep somebody from working here: on a day of theirs, or until a later one. Others are not waited for. */
function listHolds(reading: Reading, job: Job, open: readonly Task[], nowMinute: Minute): readonly Hold[] {
  const { company, zone } = reading;
  const days = listWork(reading, job);
  return company.holds.filter((hold) => {
    if (!isAtHouse(hold, job.id) || instantOf(hold.to, zone) <= nowMinute) return false;
    const stops = (task: Task | null): boolean =>
      task !== null && stopsTrade(hold, reading.trades.get(task.trade ?? ""));
    const isOnDay = days.some(
      ({ date, blocks }) =>
        holdsOn(company, date).includes(hold) &&
        blocks.some(({ kind, task }) => kind === "work" && stops(task)),
    );
    return isOnDay || open.some((task) => stops(task) && isHeldBack(reading, job, task, hold));
  });
}

/** Whether the plan says that the task begins no sooner because of this hold. */
function isHeldBack(reading: Reading, job: Job, task: Task, hold: Hold): boolean {
  const planned = reading.planned(job.id, task.id);
  if (planned === undefined) return false;
  const { kind, until, also = [] } = planned.because;
  const end = instantOf(hold.to, reading.zone);
  if (kind === "hold") return until !== null && instantOf(until, reading.zone) === end;
  return also.includes("hold") && end <= planned.start;
}

function sayHold(reading: Reading, hold: Hold, open: readonly Task[], language: Language): string {
  const words = HOMEOWNER_WORDS[language];
  const when = holdTimes(reading.company, hold, language);
  if (hold.trades === "outdoor") return words.weather([words.outdoorWork], when);
  if (hold.trades === "all") return words.hold([words.allWork], when);
  const stopped = open.flatMap(({ trade: id }) => {
    const trade = reading.trades.get(id ?? "");
    return trade !== undefined && stopsTrade(hold, trade) ? [trade.name[language]] : [];
  });
  const work = [...new Set(stopped)];
  return hold.source === "forecast" ? words.weather(work, when) : words.hold(work, when);
}
