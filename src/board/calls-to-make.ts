/**
 * What to say on the phone to whom a change of what is published concerns: the homeowner, the subcontractor crew and the
 * supplier whose dates are others than before. Whom it concerns is found by the planner's comparison; here it is put in
 * words. To a homeowner nobody else's house is named; a subcontractor and a supplier are told the house they come to.
 */
import type { Company, Crew, Delivery, Job } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import type { Call, DaysCall } from "../planner/ways-out/calls.js";
import type { PlanDifference, TaskMove } from "../planner/ways-out/plan-difference.js";
import { customerReason } from "./customer-reason.js";
import type { Reading } from "./reading.js";
import { longDate } from "./spoken-time.js";

export interface CallDateFacts {
  readonly what: string;
  readonly from: CivilDate | null;
  readonly to: CivilDate | null;
}

export interface CallFacts {
  readonly whom: "homeowner" | "subcontractor" | "supplier";
  /** The house's id, the crew's, or `job/delivery`. */
  readonly subject: string;
  readonly name: string;
  readonly dates: readonly CallDateFacts[];
  readonly say: string;
}

/** More sentences than these nobody listens to; the other dates are on the list. */
const MOST_SENTENCES = 4;

/** The calls of a difference, in its order. `reading` is of the plan that is to stand. */
export function listCallsToMake(
  reading: Reading,
  { calls, moved }: Pick<PlanDifference, "calls" | "moved">,
): readonly CallFacts[] {
  return calls.flatMap((call) => toFacts(reading, call, moved));
}

function toFacts(reading: Reading, call: Call, moved: readonly TaskMove[]): CallFacts[] {
  const { company } = reading;
  if (call.kind === "sub") {
    const crew = reading.crews.get(call.crew);
    return crew === undefined ? [] : [subcontractorCall(company, crew, call, moved)];
  }
  const job = reading.jobs.get(call.job);
  if (job === undefined) return [];
  if (call.kind === "homeowner") return [homeownerCall(reading, job, call, moved)];
  const delivery = job.deliveries.find(({ id }) => id === call.delivery);
  return delivery === undefined ? [] : [supplierCall(company, job, delivery, call.old, call.new)];
}

interface MovedDate extends CallDateFacts {
  readonly sentence: string;
}

function toCall(
  company: Company,
  call: Pick<CallFacts, "whom" | "subject" | "name">,
  moved: readonly MovedDate[],
): CallFacts {
  const inOrder = moved.toSorted((a, b) => compare(a.to ?? a.from, b.to ?? b.from));
  const said = [...new Set(inOrder.map(({ sentence }) => sentence))];
  const more = said.length - MOST_SENTENCES;
  return {
    ...call,
    dates: inOrder.map(({ what, from, to }) => ({ what, from, to })),
    say: [
      `Good afternoon, this is ${company.company.name}.`,
      ...said.slice(0, MOST_SENTENCES),
      ...(more > 0 ? [`${more} more ${more === 1 ? "date has" : "dates have"} changed with it.`] : []),
    ].join(" "),
  };
}

function compare(a: CivilDate | null, b: CivilDate | null): number {
  return (a ?? "") < (b ?? "") ? -1 : (a ?? "") > (b ?? "") ? 1 : 0;
}

/** When each work at the house begins that had another date; where none had, the days on which somebody comes. */
function homeownerCall(reading: Reading, job: Job, days: DaysCall, moved: readonly TaskMove[]): CallFacts {
  const begins = new Map<string, MovedDate>();
  for (const move of moved) {
    const begin = move.job === job.id ? beginOf(reading, job, move) : undefined;
    const known = begin && begins.get(begin.what);
    // Several tasks of a trade in one place are one to whoever lives there: the first of them counts.
    if (begin !== undefined && (known === undefined || compare(begin.to, known.to) < 0)) {
      begins.set(begin.what, begin);
    }
  }
  const call = { whom: "homeowner", subject: job.id, name: `Homeowner, ${job.name}` } as const;
  if (begins.size > 0) return toCall(reading.company, call, [...begins.values()]);
  const sentence =
    days.after.length === 0
      ? `We do not come to your house on ${listDates(days.before)} after all.`
      : days.before.length === 0
        ? `We come to your house on ${listDates(days.after)}.`
        : `We come to your house on ${listDates(days.after)} instead of ${listDates(days.before)}.`;
  return toCall(reading.company, call, [
    { what: "Days at the house", from: days.old, to: days.new, sentence },
  ]);
}

/** Undefined where the task begins when it did, or had no date. */
function beginOf(
  reading: Reading,
  job: Job,
  { task: taskId, before, after }: TaskMove,
): MovedDate | undefined {
  const task = reading.task(job.id, taskId);
  const from = before?.dates[0];
  const to = after?.dates[0] ?? null;
  if (task === undefined || before === null || from === undefined || from === to) return undefined;
  const trade = reading.trades.get(task.trade ?? "")?.name.en ?? task.title;
  const what = task.area === null ? trade : `${trade} (${task.area})`;
  const spoken = `The ${lowerFirst(what)} at your house`;
  const begins = task.status === "under-way" ? "goes on" : "begins";
  if (to === null) {
    const sentence = `${spoken} cannot be done on ${longDate(from, "en")} as planned, and there is no new date yet.`;
    return { what, from, to, sentence };
  }
  const reason = to > from ? customerReason(reading, job, task, before) : "";
  const sentence = `${spoken} ${begins} ${longDate(to, "en")} instead of ${longDate(from, "en")}${reason === "" ? "" : `, ${reason}`}.`;
  return { what, from, to, sentence };
}

/** The houses at which the crew's days have changed; where only their order has, all its days. */
function subcontractorCall(
  company: Company,
  crew: Crew,
  days: DaysCall,
  moved: readonly TaskMove[],
): CallFacts {
  const houses = company.jobs.flatMap((job): MovedDate[] => {
    const own = moved.filter((move) => move.job === job.id);
    const before = datesOf(
      own.map((move) => move.before),
      crew,
    );
    const after = datesOf(
      own.map((move) => move.after),
      crew,
    );
    const from = before.find((date) => !after.includes(date)) ?? null;
    const to = after.find((date) => !before.includes(date)) ?? null;
    if (from === null && to === null) return [];
    return [{ what: job.name, from, to, sentence: subcontractorSentence(job.name, before, after) }];
  });
  const name = `${crew.name} (subcontractor), ${crew.lead}`;
  const all = { what: "Days of work", from: days.old, to: days.new };
  return toCall(
    company,
    { whom: "subcontractor", subject: crew.id, name },
    houses.length > 0
      ? houses
      : [{ ...all, sentence: subcontractorSentence("our houses", days.before, days.after) }],
  );
}

function subcontractorSentence(
  where: string,
  before: readonly CivilDate[],
  after: readonly CivilDate[],
): string {
  if (after.length === 0) return `Your crew does not work at ${where} on ${listDates(before)} after all.`;
  if (before.length === 0) return `Your crew works at ${where} on ${listDates(after)}.`;
  return `Your crew works at ${where} on ${listDates(after)} instead of ${listDates(before)}.`;
}

const MOST_DATES = 4;

/** "Tuesday 8 December and Wednesday 9 December"; of many the first and the last. */
function listDates(dates: readonly CivilDate[]): string {
  const spoken = dates.map((date) => longDate(date, "en"));
  if (spoken.length <= 1) return spoken.join("");
  if (spoken.length > MOST_DATES) {
    return `${spoken.length} days from ${spoken[0] ?? ""} to ${spoken.at(-1) ?? ""}`;
  }
  return `${spoken.slice(0, -1).join(", ")} and ${spoken.at(-1) ?? ""}`;
}

function datesOf(places: readonly TaskMove["before"][], crew: Crew): readonly CivilDate[] {
  const dates = places.flatMap((place) => (place?.crews.includes(crew.id) === true ? place.dates : []));
  return [...new Set(dates)].sort(compare);
}

/** When a delivery that has not come is first needed. */
function supplierCall(
  company: Company,
  job: Job,
  delivery: Delivery,
  from: CivilDate | null,
  to: CivilDate | null,
): CallFacts {
  const what = `the delivery for ${job.name} (${delivery.what})`;
  const sentence =
    to === null
      ? `We do not need ${what} for now; we will call with a new date.`
      : `We need ${what} on site by ${longDate(to, "en")}${from === null ? "" : ` instead of ${longDate(from, "en")}`}.`;
  return toCall(
    company,
    {
      whom: "supplier",
      subject: `${job.id}/${delivery.id}`,
      name: `Supplier of ${delivery.what}, ${job.name}`,
    },
    [{ what: delivery.what, from, to, sentence }],
  );
}

/** "Siding (front)" → "siding (front)"; "WRB" stays. */
function lowerFirst(text: string): string {
  return /^[A-Z][^A-Z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** The call to somebody who was told of dates that have been taken back: the same dates the other way round. */
export function toCallBack(companyName: string, call: Omit<CallFacts, "say">): CallFacts {
  const { whom, subject, name } = call;
  const dates = call.dates.map(({ what, from, to }) => ({ what, from: to, to: from }));
  const said = dates.slice(0, MOST_SENTENCES).map(({ what, from, to }) => {
    if (to === null) return `${what}: not on ${from === null ? "that day" : longDate(from, "en")} after all.`;
    return `${what}: ${longDate(to, "en")} holds after all${from === null ? "" : `, and not ${longDate(from, "en")}`}.`;
  });
  const greeting = `Good afternoon, this is ${companyName} again. The change that we told you of has been taken back.`;
  return { whom, subject, name, dates, say: [greeting, ...said].join(" ") };
}
