/**
 * What crews read: on the days that are held, what was published to them, whatever the office has planned since; on days
 * gone by, what was published then; on all others, and where a person has released a day, the plan as a forecast.
 */
import { addDays, daysBetween, type CivilDate } from "../domain/time.js";
import type { Plan, PlanBlock } from "../domain/plan-format.js";
import type { PublishedPromise } from "./promise.js";
import { buildReading, type Reading } from "./reading.js";
import { DateReader } from "../planner/ways-out/planned-work.js";

/** Of a crew's day. "drifted": held as published, and the plan has something else by now. */
export type SheetStanding = "published" | "drifted" | "forecast" | "released" | "unpublished";

/** What a crew's sheet of a date shows. */
export function findStanding(
  promise: PublishedPromise,
  crew: string,
  date: CivilDate,
  today: CivilDate,
): SheetStanding {
  const state = promise.stateOf(crew, date);
  if (state === "unpublished" || state === "released") return state;
  if (date < today) return "published";
  if (date > promise.frozenUntil) return "forecast";
  if (state === "as-published") return "published";
  // Where only pieces of work are published, there is no sheet of that day to hold on to.
  return promise.isWhole ? "drifted" : "forecast";
}

/** The reading for crews; the plan's own where nothing is published. */
export function buildPromisedReading(reading: Reading, promise: PublishedPromise, today: CivilDate): Reading {
  if (!promise.isPublished || !promise.isWhole) return reading;
  const { company, plan, zone } = reading;
  const dates = new DateReader(zone);
  const dateOf = (block: { readonly start: string }): CivilDate => dates.dateOf(dates.minuteOf(block.start));
  const shown = new Map<string, readonly PlanBlock[]>();
  const held = Array.from({ length: daysBetween(today, promise.frozenUntil) + 1 }, (_, ahead) =>
    addDays(today, ahead),
  );
  const past = [...new Set((company.published ?? []).map(dateOf))].filter((date) => date < today);
  for (const { id } of company.crews) {
    for (const date of [...past, ...held]) {
      const standing = findStanding(promise, id, date, today);
      if (standing !== "published" && standing !== "drifted") continue;
      shown.set(`${id} ${date}`, promise.publishedOn(id, date).map(toPlanBlock));
    }
  }
  const isShown = (crew: string, date: string): boolean => shown.has(`${crew} ${date}`);
  const blocks = [
    ...plan.blocks.filter((block) => !isShown(block.crew, dateOf(block))),
    ...[...shown.values()].flat(),
  ];
  const before = promise.by?.plan ?? plan;
  return buildReading(company, {
    ...plan,
    blocks,
    days: [
      ...plan.days.filter((day) => !isShown(day.crew, day.date)),
      ...before.days.filter((day) => isShown(day.crew, day.date)),
    ],
    tasks: listTasks(plan, before, [...shown.values()].flat()),
  });
}

function toPlanBlock(block: ReturnType<PublishedPromise["publishedOn"]>[number]): PlanBlock {
  const { crew, kind, job, task, units, start, end } = block;
  return { crew, kind, job, task, units: units === null ? null : [units[0], units[1]], start, end };
}

/** Of tasks that are shown as published, what the plan said that was published. */
function listTasks(plan: Plan, before: Plan, shown: readonly PlanBlock[]): Plan["tasks"] {
  const keyOf = ({ job, task }: { readonly job: string | null; readonly task: string | null }): string =>
    `${job ?? ""}/${task ?? ""}`;
  const wanted = new Set(shown.filter(({ kind }) => kind === "work").map(keyOf));
  const published = new Map(before.tasks.map((task) => [keyOf(task), task]));
  const inPlan = plan.tasks.map((task) =>
    wanted.has(keyOf(task)) ? (published.get(keyOf(task)) ?? task) : task,
  );
  const known = new Set(plan.tasks.map(keyOf));
  return [...inPlan, ...before.tasks.filter((task) => wanted.has(keyOf(task)) && !known.has(keyOf(task)))];
}
