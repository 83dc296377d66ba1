/**
 * What can be chosen where a slip is reported: tasks, deliveries, crews and houses of the near future, as finished
 * choices. What lies far ahead has no slip yet; a house that somebody came from is always there.
 */
import type { Company, Job, Task } from "../domain/company-schema.js";
import { civilDate, type Minute } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import type { Reading } from "./reading.js";
import { shortDate } from "./spoken-time.js";

export interface Choice {
  readonly value: string;
  readonly words: string;
}

/** Choices under the name of their house. */
export interface ChoiceGroup {
  readonly name: string;
  readonly choices: readonly Choice[];
}

export interface SlipChoices {
  /** Tasks that may need more hours, as `house/task`. */
  readonly tasks: readonly ChoiceGroup[];
  /** Places in the order of a house, as `after:house/task` and `before:house/task`. */
  readonly places: readonly ChoiceGroup[];
  readonly crews: readonly Choice[];
  readonly trades: readonly Choice[];
  /** Deliveries that have not come, as `house/delivery`. */
  readonly deliveries: readonly Choice[];
  readonly jobs: readonly Choice[];
}

/** Tasks that begin later than this are not offered. */
const NEAR_MINUTES = 28 * 24 * 60;

/** `from`: a house that is offered in full. */
export function buildSlipChoices(reading: Reading, now: Minute, from: string): SlipChoices {
  const { company } = reading;
  const near = company.jobs.map((job) => ({
    job,
    tasks: job.tasks.filter((task) => isOffered(reading, job, task, now, from)),
  }));
  const group = (
    list: (job: Job, task: Task) => readonly Choice[],
    tasksOf: (entry: (typeof near)[number]) => readonly Task[],
  ): readonly ChoiceGroup[] =>
    near.flatMap((entry) => {
      const choices = tasksOf(entry).flatMap((task) => list(entry.job, task));
      return choices.length === 0 ? [] : [{ name: entry.job.name, choices }];
    });
  return {
    tasks: group(
      (job, task) => [{ value: `${job.id}/${task.id}`, words: taskWords(reading, job, task) }],
      ({ tasks }) => tasks.filter(({ trade }) => trade !== null),
    ),
    places: group(placeChoices, ({ job, tasks }) => {
      // Beside what was done last, something may be found as well.
      const last = job.tasks.findLast(({ status, trade }) => status === "done" && trade !== null);
      return [...(last === undefined ? [] : [last]), ...tasks];
    }),
    crews: company.crews.map(({ id, name }) => ({ value: id, words: name })),
    trades: company.trades
      .filter(({ id }) => company.crews.some(({ trades }) => Object.hasOwn(trades, id)))
      .map(({ id, name }) => ({ value: id, words: name.en })),
    deliveries: company.jobs.flatMap((job) =>
      job.deliveries
        .filter(({ received }) => !received)
        .map(({ id, what, expected }) => ({
          value: `${job.id}/${id}`,
          words: `${what} for ${job.name}, expected ${shortDate(civilDate(expected), "en")}`,
        })),
    ),
    jobs: company.jobs
      .filter(({ tasks }) => tasks.some(({ status }) => status !== "done"))
      .map((job) => ({ value: job.id, words: jobWords(job) })),
  };
}

function isOffered(reading: Reading, job: Job, task: Task, now: Minute, from: string): boolean {
  if (task.status === "done") return false;
  if (job.id === from || task.status === "under-way") return true;
  const planned = reading.planned(job.id, task.id);
  return planned !== undefined && planned.start <= now + NEAR_MINUTES;
}

function taskWords(reading: Reading, job: Job, task: Task): string {
  const crew = reading.planned(job.id, task.id)?.crew?.name;
  const state = task.status === "under-way" ? ", under way" : "";
  return `${taskTitle(task.title, task.area)}${crew === undefined ? "" : ` (${crew}${state})`}`;
}

function placeChoices(job: Job, task: Task): readonly Choice[] {
  const title = taskTitle(task.title, task.area);
  const at = `${job.id}/${task.id}`;
  return [
    ...(task.status === "to-do" ? [{ value: `before:${at}`, words: `before ${title}` }] : []),
    { value: `after:${at}`, words: `after ${title}` },
  ];
}

function jobWords({ name, promised }: Job): string {
  return promised === null ? name : `${name}, promised ${shortDate(civilDate(promised), "en")}`;
}

/** What a permission can name: dates as choices. */
export function toDateChoices(dates: readonly string[]): readonly Choice[] {
  return dates.map((date) => ({ value: date, words: shortDate(civilDate(date), "en") }));
}

/** Two crews, tasks and dates that a wish can name. */
export function listWishCrews(company: Company): readonly Choice[] {
  return company.crews.map(({ id, name }) => ({ value: id, words: name }));
}
