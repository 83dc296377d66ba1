/**
 * What a change moves with every crew keeping its order, in short sentences: promised dates, houses that are finished
 * later or sooner, tasks.
 */
import { zoneOfJob, type Company } from "../domain/company-schema.js";
import { civilDateAt, daysBetween, type CivilDate, type Minute } from "../domain/time.js";
import { findJobEnd } from "../planner/ways-out/job-ends.js";
import type { PromiseChange, TaskMove, TaskPlace } from "../planner/ways-out/plan-difference.js";
import type { Ripple } from "../planner/ways-out/ripple.js";
import { taskTitle } from "./board-tags.js";
import { shortDate } from "./spoken-time.js";

/** A ripple, and what it is of. */
export interface RippleFacts {
  /** As it was before the change. */
  readonly was: Company;
  readonly company: Company;
  /** The minute of the change. */
  readonly asOf: Minute;
  readonly ripple: Ripple;
}

export interface RippleLine {
  readonly words: string;
  readonly isBad: boolean;
}

export interface RippleView {
  /** "1 promise broken, 2 houses later, 5 tasks moved."; "Nothing else moves." */
  readonly summary: string;
  readonly isBad: boolean;
  /** Houses that are finished on another day, or whose promised date is another matter now. */
  readonly houses: readonly RippleLine[];
  readonly tasks: readonly RippleLine[];
  /** Tasks beyond those. */
  readonly moreTasks: number;
}

/** Of a change that alters nothing. */
export const NO_RIPPLE: RippleView = {
  summary: "Nothing else moves.",
  isBad: false,
  houses: [],
  tasks: [],
  moreTasks: 0,
};

const MOST_TASKS = 8;

export function buildRippleView(facts: RippleFacts): RippleView {
  const { company } = facts;
  const { difference } = facts.ripple;
  const houses = listHouses(facts);
  const tasks = difference.moved.map((move) => taskLine(company, move));
  const broken = difference.promises.filter(({ kind }) => kind === "broken").length;
  const saved = difference.promises.filter(({ kind }) => kind === "saved").length;
  const later = houses.filter(({ days }) => days > 0).length;
  const sooner = houses.filter(({ days }) => days < 0).length;
  const counts = [
    count(broken, "promise broken", "promises broken"),
    count(later, "house later", "houses later"),
    count(saved, "promise saved", "promises saved"),
    count(sooner, "house sooner", "houses sooner"),
    count(tasks.length, "task moved", "tasks moved"),
  ].filter((text) => text !== "");
  return {
    summary: counts.length === 0 ? NO_RIPPLE.summary : `${counts.join(", ")}.`,
    isBad: broken > 0 || later > 0,
    houses,
    tasks: tasks.slice(0, MOST_TASKS),
    moreTasks: Math.max(0, tasks.length - MOST_TASKS),
  };
}

const PROMISE_WORDS = {
  broken: "promise broken",
  saved: "promise saved",
  later: "promise missed by more",
  sooner: "promise missed by less",
  "as-late": "promise missed as before",
} as const;

interface HouseLine extends RippleLine {
  /** How much later it is finished; negative where sooner, infinite where it has no end any more. */
  readonly days: number;
}

function listHouses({ was, company, asOf, ripple }: RippleFacts): readonly HouseLine[] {
  const { before, after, leftOut: endless, difference } = ripple;
  const stood = new Map(was.jobs.map((job) => [job.id, job]));
  return company.jobs.flatMap((job): HouseLine[] => {
    const promise = difference.promises.find((change) => change.job === job.id && change.kind !== "as-late");
    const said = promise === undefined ? "" : `; ${PROMISE_WORDS[promise.kind]}, ${sayLate(promise)}`;
    const isBroken = promise?.kind === "broken" || promise?.kind === "later";
    const [old, now] = [
      findJobEnd(was, stood.get(job.id) ?? job, before, asOf),
      findJobEnd(company, job, after, asOf, { endless }),
    ];
    if (now === null && old !== null) {
      return [{ words: `${job.name}: no end in sight${said}`, isBad: true, days: Infinity }];
    }
    if (old == null || now == null) {
      return said === "" ? [] : [{ words: `${job.name}${said}`, isBad: isBroken, days: 0 }];
    }
    const zone = zoneOfJob(company, job);
    // What ends at midnight ends with the day before.
    const [then, end] = [civilDateAt(old - 1, zone), civilDateAt(now - 1, zone)];
    const days = daysBetween(then, end);
    if (days === 0 && said === "") return [];
    const far = `${Math.abs(days)} ${Math.abs(days) === 1 ? "day" : "days"} ${days > 0 ? "later" : "sooner"}`;
    const finish =
      days === 0 ? `would finish ${day(end)}` : `would finish ${day(end)}, ${far} (without it ${day(then)})`;
    return [{ words: `${job.name}: ${finish}${said}`, isBad: isBroken || days > 0, days }];
  });
}

function sayLate({ lateBefore, lateAfter }: PromiseChange): string {
  const say = (late: number | null): string =>
    late === null
      ? "no end in sight"
      : late === 0
        ? "in time"
        : `${late} ${late === 1 ? "day" : "days"} late`;
  return `${say(lateAfter)} (was ${say(lateBefore)})`;
}

function taskLine(company: Company, { job: jobId, task: taskId, before, after }: TaskMove): RippleLine {
  const job = company.jobs.find(({ id }) => id === jobId);
  const task = job?.tasks.find(({ id }) => id === taskId);
  const title = task === undefined ? taskId : taskTitle(task.title, task.area);
  const hasOtherCrew = before !== null && after !== null && before.crews.join() !== after.crews.join();
  const place = (of: TaskPlace | null): string => {
    if (of === null) return "in no plan";
    const names = of.crews.map((id) => company.crews.find((crew) => crew.id === id)?.name ?? id);
    return `${listDays(of.dates)}${hasOtherCrew ? ` with ${names.join(" and ")}` : ""}`;
  };
  const isBad =
    after === null || (before !== null && (after.dates.at(-1) ?? "") > (before.dates.at(-1) ?? ""));
  return { words: `${title}, ${job?.name ?? jobId}: ${place(after)} (was ${place(before)})`, isBad };
}

/** "Tue 8 Dec"; of several days the first and the last. */
function listDays(dates: readonly CivilDate[]): string {
  const ends = [...new Set([dates[0], dates.at(-1)])];
  return ends.flatMap((date) => (date === undefined ? [] : [day(date)])).join(" to ");
}

const day = (date: CivilDate): string => shortDate(date, "en");

function count(number: number, one: string, many: string): string {
  return number === 0 ? "" : `${number} ${number === 1 ? one : many}`;
}
