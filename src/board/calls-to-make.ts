/**
 * Whom a publish concerns: each homeowner, subcontractor crew and supplier whose date is another one than was published
 * before, with the old and the new dates and what to say on the phone. To a homeowner nobody else's house is named; a
 * subcontractor and a supplier are told the house that they come to. Who was told no date before gets no call.
 */
import type { Company, Crew, Delivery, Job } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import { customerReason } from "./customer-reason.js";
import type { Reading } from "./reading.js";
import { longDate } from "./spoken-time.js";
import { listTaskDays, taskKey, type TaskDays, type WorkBlock } from "./work-moves.js";

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

/**
 * The calls, homeowners first, in the order of the file. `reading` is of the company before the publish and of the plan
 * that is published, `after` what it makes of `published`.
 */
export function listCallsToMake(
  reading: Reading,
  after: readonly WorkBlock[],
  today: CivilDate,
): readonly CallFacts[] {
  const { company } = reading;
  if (company.published === null) return [];
  const old = listTaskDays(company.published, reading.zone, today);
  const now = listTaskDays(after, reading.zone, today);
  return [
    ...company.jobs.flatMap((job) => homeownerCall(reading, job, old, now)),
    ...company.crews
      .filter((crew) => crew.kind === "sub")
      .flatMap((crew) => subcontractorCall(company, crew, old, now)),
    ...company.jobs.flatMap((job) =>
      job.deliveries.flatMap((delivery) => supplierCall(company, job, delivery, old, now)),
    ),
  ];
}

interface MovedDate extends CallDateFacts {
  readonly sentence: string;
}

function toCall(
  company: Company,
  call: Pick<CallFacts, "whom" | "subject" | "name">,
  moved: readonly MovedDate[],
): CallFacts[] {
  if (moved.length === 0) return [];
  const inOrder = moved.toSorted((a, b) => compare(a.to ?? a.from, b.to ?? b.from));
  const said = inOrder.slice(0, MOST_SENTENCES).map(({ sentence }) => sentence);
  const more = inOrder.length - said.length;
  return [
    {
      ...call,
      dates: inOrder.map(({ what, from, to }) => ({ what, from, to })),
      say: [
        `Good afternoon, this is ${company.company.name}.`,
        ...said,
        ...(more > 0 ? [`${more} more ${more === 1 ? "date has" : "dates have"} changed with it.`] : []),
      ].join(" "),
    },
  ];
}

function compare(a: CivilDate | null, b: CivilDate | null): number {
  return (a ?? "") < (b ?? "") ? -1 : (a ?? "") > (b ?? "") ? 1 : 0;
}

/** One date for each trade and area: when it begins, or goes on where it has begun. */
function homeownerCall(reading: Reading, job: Job, old: TaskDays, now: TaskDays): CallFacts[] {
  const works = new Map<
    string,
    { from: CivilDate | null; to: CivilDate | null; taskId: string; isBegun: boolean }
  >();
  for (const task of job.tasks) {
    if (task.status === "done" || task.trade === null) continue;
    const trade = reading.trades.get(task.trade)?.name.en ?? task.title;
    const what = task.area === null ? trade : `${trade} (${task.area})`;
    const key = taskKey(job.id, task.id);
    const from = old.get(key)?.[0]?.date ?? null;
    const to = now.get(key)?.[0]?.date ?? null;
    const known = works.get(what);
    const isFirst = known === undefined || (to !== null && (known.to === null || to < known.to));
    works.set(what, {
      from: earliest(known?.from ?? null, from),
      to: earliest(known?.to ?? null, to),
      taskId: isFirst ? task.id : known.taskId,
      isBegun: (known?.isBegun ?? false) || task.status === "under-way",
    });
  }
  const moved = [...works].flatMap(([what, { from, to, taskId, isBegun }]): MovedDate[] => {
    if (from === null || from === to) return [];
    const begins = isBegun ? "goes on" : "begins";
    const spoken = `The ${lowerFirst(what)} at your house`;
    if (to === null) {
      const sentence = `${spoken} cannot be done on ${longDate(from, "en")} as planned, and there is no new date yet.`;
      return [{ what, from, to, sentence }];
    }
    const reason = to > from ? customerReason(reading, job, taskId) : "";
    const sentence = `${spoken} ${begins} ${longDate(to, "en")} instead of ${longDate(from, "en")}${reason === "" ? "" : `, ${reason}`}.`;
    return [{ what, from, to, sentence }];
  });
  return toCall(
    reading.company,
    { whom: "homeowner", subject: job.id, name: `Homeowner, ${job.name}` },
    moved,
  );
}

/** The days of a crew at each house. */
function subcontractorCall(company: Company, crew: Crew, old: TaskDays, now: TaskDays): CallFacts[] {
  const moved = company.jobs.flatMap((job): MovedDate[] => {
    const [before, after] = [datesAt(job, crew, old), datesAt(job, crew, now)];
    if (before.join() === after.join()) return [];
    const from = before.find((date) => !after.includes(date)) ?? before[0] ?? null;
    const to = after.find((date) => !before.includes(date)) ?? after[0] ?? null;
    return [{ what: job.name, from, to, sentence: subcontractorSentence(job, before, after) }];
  });
  const name = `${crew.name} (subcontractor), ${crew.lead}`;
  return toCall(company, { whom: "subcontractor", subject: crew.id, name }, moved);
}

function subcontractorSentence(job: Job, before: readonly CivilDate[], after: readonly CivilDate[]): string {
  if (after.length === 0) return `Your crew does not work at ${job.name} on ${listDates(before)} after all.`;
  if (before.length === 0) return `Your crew works at ${job.name} on ${listDates(after)}.`;
  return `Your crew works at ${job.name} on ${listDates(after)} instead of ${listDates(before)}.`;
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

function datesAt(job: Job, crew: Crew, days: TaskDays): readonly CivilDate[] {
  const dates = job.tasks
    .filter((task) => task.status !== "done")
    .flatMap((task) => days.get(taskKey(job.id, task.id)) ?? [])
    .filter((day) => day.crew === crew.id)
    .map(({ date }) => date);
  return [...new Set(dates)].sort();
}

/** When a delivery that has not come is first needed. */
function supplierCall(
  company: Company,
  job: Job,
  delivery: Delivery,
  old: TaskDays,
  now: TaskDays,
): CallFacts[] {
  if (delivery.received) return [];
  const neededOn = (days: TaskDays): CivilDate | null =>
    job.tasks
      .filter((task) => task.status !== "done" && task.needs.includes(delivery.id))
      .reduce<CivilDate | null>(
        (first, task) => earliest(first, days.get(taskKey(job.id, task.id))?.[0]?.date ?? null),
        null,
      );
  const [from, to] = [neededOn(old), neededOn(now)];
  if (from === null || to === null || from === to) return [];
  const sentence = `We need the delivery for ${job.name} (${delivery.what}) on site by ${longDate(to, "en")} instead of ${longDate(from, "en")}.`;
  const name = `Supplier of ${delivery.what}, ${job.name}`;
  return toCall(company, { whom: "supplier", subject: `${job.id}/${delivery.id}`, name }, [
    { what: delivery.what, from, to, sentence },
  ]);
}

function earliest(a: CivilDate | null, b: CivilDate | null): CivilDate | null {
  if (a === null || b === null) return a ?? b;
  return a < b ? a : b;
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
