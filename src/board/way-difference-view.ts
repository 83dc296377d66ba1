/** One way out looked at closely: day by day who was to be where and who is now, promised dates, and whom to call. */
import type { Company } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import type { PlanDifference, TaskRef } from "../planner/ways-out/plan-difference.js";
import { taskTitle } from "./board-tags.js";
import { listCallsToMake } from "./calls-to-make.js";
import type { Reading } from "./reading.js";
import { longDate, shortDate } from "./spoken-time.js";
import { promiseLine } from "./ways-out-view.js";

export interface ChangedCrewDay {
  readonly crew: string;
  /** Houses with their tasks; "not called out" where there are none. */
  readonly before: readonly string[];
  readonly after: readonly string[];
}

export interface ChangedDay {
  readonly date: CivilDate;
  readonly title: string;
  readonly crews: readonly ChangedCrewDay[];
}

export interface WayDifferenceView {
  readonly days: readonly ChangedDay[];
  /** Days beyond those, on which something changes too. */
  readonly moreDays: number;
  readonly promises: readonly { readonly words: string; readonly isBad: boolean }[];
  readonly calls: readonly { readonly name: string; readonly dates: readonly string[] }[];
}

/** Three weeks of them are read by nobody at once. */
const MOST_DAYS = 15;

/** `reading` is of the way's company and plan; `published` what has moved of what crews and customers were told. */
export function buildWayDifference(
  reading: Reading,
  difference: PlanDifference,
  published: PlanDifference | null,
): WayDifferenceView {
  const { company } = reading;
  const dates = [...new Set(difference.days.map(({ date }) => date))];
  return {
    days: dates.slice(0, MOST_DAYS).map((date) => ({
      date,
      title: longDate(date, "en"),
      crews: difference.days
        .filter((day) => day.date === date)
        .map(({ crew, before, after }) => ({
          crew: company.crews.find(({ id }) => id === crew)?.name ?? crew,
          before: listHouses(company, before),
          after: listHouses(company, after),
        })),
    })),
    moreDays: Math.max(0, dates.length - MOST_DAYS),
    promises: difference.promises.map((one) => ({
      words: `${PROMISE_WORDS[one.kind]}: ${promiseLine(company, one)}`,
      isBad: one.kind === "broken" || one.kind === "later",
    })),
    calls: (published === null ? [] : listCallsToMake(reading, published)).map(({ name, dates: moved }) => ({
      name,
      dates: moved.map(({ what, from, to }) => `${what}: ${sayDate(from)} → ${sayDate(to)}`),
    })),
  };
}

const PROMISE_WORDS = {
  broken: "Broken",
  saved: "Saved",
  later: "Later than before",
  sooner: "Sooner than before",
  "as-late": "As late as before",
} as const;

function listHouses(company: Company, refs: readonly TaskRef[]): readonly string[] {
  if (refs.length === 0) return ["not called out"];
  const houses: { readonly job: string; readonly tasks: string[] }[] = [];
  for (const { job: jobId, task: taskId } of refs) {
    const task = company.jobs.find(({ id }) => id === jobId)?.tasks.find(({ id }) => id === taskId);
    const title = task === undefined ? taskId : taskTitle(task.title, task.area);
    const last = houses.at(-1);
    if (last?.job === jobId) last.tasks.push(title);
    else houses.push({ job: jobId, tasks: [title] });
  }
  return houses.map(({ job, tasks }) => {
    const name = company.jobs.find(({ id }) => id === job)?.name ?? job;
    return `${name}: ${tasks.join(", ")}`;
  });
}

function sayDate(date: CivilDate | null): string {
  return date === null ? "no date" : shortDate(date, "en");
}
