/**
 * What crews read: on the days that are held, what was published to them, whatever the office has planned since; on days
 * gone by, what was published then; on all others, and where a person has released a day, the plan as a forecast. Where
 * only pieces of work are published, these are held, and around them the day is a forecast as long as the plan has them.
 */
import { addDays, daysBetween, type CivilDate } from "../domain/time.js";
import type { Plan, PlanBlock, PlanDay } from "../domain/plan-format.js";
import { lightOfPieces } from "./light-of-pieces.js";
import type { PublishedPromise } from "./promise.js";
import { buildReading, type Reading } from "./reading.js";
import { DateReader } from "../planner/ways-out/planned-work.js";

/**
 * Of a crew's day. "times-moved": held as published, and the plan has the same work at other times. "runs-over": held, and
 * the plan has some of it on a later day by now. "drifted": held, and the plan has something else. "work-holds": only pieces
 * of work are published and held; the plan has them, and the rest of the day is a forecast. "work-drifted": the plan has
 * something else than the pieces that are held, and the day is these.
 */
export type SheetStanding =
  | "published"
  | "times-moved"
  | "runs-over"
  | "drifted"
  | "work-holds"
  | "work-drifted"
  | "forecast"
  | "released"
  | "unpublished";

/** What a crew's sheet of a date shows. */
export function findStanding(
  promise: PublishedPromise,
  crew: string,
  date: CivilDate,
  today: CivilDate,
): SheetStanding {
  const { state, movedTime } = promise.compare(crew, date);
  if (state === "unpublished") return state;
  const binding = promise.bindingOf(crew, date);
  if (binding !== "held") return binding;
  if (date < today) return "published";
  switch (state) {
    case "as-published":
      return "published";
    case "other-times":
      return movedTime === null ? "published" : "times-moved";
    case "later-days":
      return "runs-over";
    case "has-work":
      return "work-holds";
    case "other-work":
    case "released":
      return promise.isWhole ? "drifted" : "work-drifted";
  }
}

/** Whether what is published for the day holds: all of it, or the pieces of work that are. */
export function isHeld(standing: SheetStanding): boolean {
  return standing !== "forecast" && standing !== "released" && standing !== "unpublished";
}

/** Whether all that the sheet shows is published. */
export function isSheetPublished(standing: SheetStanding): boolean {
  return isHeld(standing) && standing !== "work-holds";
}

/** Whether it is promised that a crew comes to a house on a date. */
export function isPromisedAt(
  promise: PublishedPromise,
  { crew, job }: { readonly crew: string; readonly job: string },
  date: CivilDate,
  today: CivilDate,
): boolean {
  return (
    isHeld(findStanding(promise, crew, date, today)) &&
    promise.publishedOn(crew, date).some((block) => block.job === job)
  );
}

/** The reading for crews; the plan's own where nothing is published. */
export function buildPromisedReading(reading: Reading, promise: PublishedPromise, today: CivilDate): Reading {
  if (!promise.isPublished) return reading;
  const { company, plan, zone } = reading;
  const dates = new DateReader(zone);
  const dateOf = (block: { readonly start: string }): CivilDate => dates.dateOf(dates.minuteOf(block.start));
  const shown = new Map<string, readonly PlanBlock[]>();
  const held = Array.from({ length: daysBetween(today, promise.frozenUntil) + 1 }, (_, ahead) =>
    addDays(today, ahead),
  );
  const past = [...new Set((company.published ?? []).map(dateOf))].filter((date) => date < today);
  const goneBy: PlanBlock[] = [];
  const before = promise.by?.plan ?? plan;
  const days: PlanDay[] = [];
  for (const crew of company.crews) {
    const { id } = crew;
    for (const date of [...past, ...held]) {
      const standing = findStanding(promise, id, date, today);
      if (isSheetPublished(standing)) {
        const published = promise.publishedOn(id, date);
        shown.set(`${id} ${date}`, published.map(toPlanBlock));
        days.push(
          ...(promise.isWhole
            ? before.days.filter((day) => day.crew === id && day.date === date)
            : lightOfPieces(reading, crew, date, published)),
        );
      } else if (standing === "work-holds") goneBy.push(...listGoneBy(reading, promise, id, date, dates));
    }
  }
  const isShown = (crew: string, date: string): boolean => shown.has(`${crew} ${date}`);
  const published = [...shown.values()].flat();
  const blocks = [
    ...plan.blocks.filter((block) => !isShown(block.crew, dateOf(block))),
    ...published,
    ...goneBy,
  ];
  return buildReading(company, {
    ...plan,
    blocks,
    days: [...plan.days.filter((day) => !isShown(day.crew, day.date)), ...days],
    tasks: listTasks(plan, before, published),
  });
}

/** Published pieces of a day that had gone by when the plan was made, and that it has no more that day. */
function listGoneBy(
  reading: Reading,
  promise: PublishedPromise,
  crew: string,
  date: CivilDate,
  dates: DateReader,
): readonly PlanBlock[] {
  const asOf = dates.minuteOf(reading.plan.asOf);
  const planned = reading.dayOf(crew, date);
  return promise
    .publishedOn(crew, date)
    .filter(
      ({ job, task, end }) =>
        dates.minuteOf(end) <= asOf &&
        !planned.some((block) => block.job?.id === job && block.task?.id === task),
    )
    .map(toPlanBlock);
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
