/**
 * What is published beside the plan that stands: for each crew's day whether the plan still has it as it was promised,
 * and how far the promise holds it. Made once for a plan; the pages word it.
 */
import type { PublishedBlock } from "../domain/company-schema.js";
import type { Plan, PlanBlock } from "../domain/plan-format.js";
import { addDays, type CivilDate } from "../domain/time.js";
import { findDifference, type PlanDifference } from "../planner/ways-out/plan-difference.js";
import { DateReader, readWork } from "../planner/ways-out/planned-work.js";
import { instantOf, type Reading } from "./reading.js";

/** Who published, as the record has it. */
export interface PublishedBy {
  readonly madeAt: Date;
  readonly personName: string;
  readonly why: string;
  /** "company-loaded" where it came with a company file. */
  readonly kind: string;
  /** The plan that was published; null where only its blocks are known. */
  readonly plan: Plan | null;
}

/**
 * Of one crew's day. "as-published": the same work, at the same times. "other-times": the same work, begun or ended at
 * other times. "other-work": other tasks than were published, none, or some where none were. "released": a person has
 * let the plan move it. "unpublished": nothing is published.
 */
export type SheetState = "as-published" | "other-times" | "other-work" | "released" | "unpublished";

export interface PublishedPromise {
  readonly isPublished: boolean;
  /** Whether whole days are published; otherwise only pieces of work, as a company file may name them. */
  readonly isWhole: boolean;
  /** The last date whose sheets move only when a person says so. */
  readonly frozenUntil: CivilDate;
  /** From what was published to the plan that stands; null where nothing is published. */
  readonly difference: PlanDifference | null;
  readonly by: PublishedBy | null;
  stateOf(crew: string, date: CivilDate): SheetState;
  /** What was published for a crew's day, in order of time. */
  publishedOn(crew: string, date: CivilDate): readonly PublishedBlock[];
}

/** `today`: the date of the company's zone on which it is looked at. */
export function buildPromise(reading: Reading, by: PublishedBy | null, today: CivilDate): PublishedPromise {
  const { company, plan, zone } = reading;
  const published = company.published;
  const dates = new DateReader(zone);
  const promised = groupByDay(published ?? [], dates);
  const planned = groupByDay(plan.blocks, dates);
  const isWhole = (published ?? []).some(({ kind }) => kind !== "work");
  const stateOf = (crew: string, date: CivilDate): SheetState => {
    if (published === null) return "unpublished";
    const [old, now] = [promised.get(dayKey(crew, date)) ?? [], planned.get(dayKey(crew, date)) ?? []];
    if (old.some(({ released }) => released)) return "released";
    const ahead = isAfter(plan, date, dates) ? old : withoutPast(old, plan, dates);
    if (!isWhole && old.length === 0) return "unpublished";
    if (!isWhole) return hasAll(ahead, now) ? "as-published" : "other-work";
    if (timesOf(ahead, dates) === timesOf(now, dates)) return "as-published";
    return tasksOf(ahead) === tasksOf(now) ? "other-times" : "other-work";
  };
  return {
    isPublished: published !== null,
    isWhole,
    frozenUntil: addDays(today, company.policy.freezeDays),
    difference:
      published === null
        ? null
        : findDifference(
            company,
            readWork(company, published),
            readWork(company, plan.blocks),
            instantOf(plan.asOf, zone),
          ),
    by: published === null ? null : by,
    stateOf,
    publishedOn: (crew, date) => promised.get(dayKey(crew, date)) ?? [],
  };
}

const dayKey = (crew: string, date: string): string => `${crew} ${date}`;

type AnyBlock = PlanBlock | PublishedBlock;

function groupByDay<B extends AnyBlock>(
  blocks: readonly B[],
  dates: DateReader,
): ReadonlyMap<string, readonly B[]> {
  const days = new Map<string, B[]>();
  for (const block of blocks) {
    const key = dayKey(block.crew, dates.dateOf(dates.minuteOf(block.start)));
    const known = days.get(key);
    if (known) known.push(block);
    else days.set(key, [block]);
  }
  return days;
}

function isAfter(plan: Plan, date: CivilDate, dates: DateReader): boolean {
  return date > dates.dateOf(dates.minuteOf(plan.asOf));
}

/** A plan knows nothing of the hours before it was made: these are no difference. */
function withoutPast(
  blocks: readonly PublishedBlock[],
  plan: Plan,
  dates: DateReader,
): readonly PublishedBlock[] {
  const asOf = dates.minuteOf(plan.asOf);
  return blocks.filter(({ end }) => dates.minuteOf(end) > asOf);
}

const taskOf = ({ job, task }: AnyBlock): string => `${job ?? ""}/${task ?? ""}`;
const isWork = ({ kind }: AnyBlock): boolean => kind === "work";

function timesOf(blocks: readonly AnyBlock[], dates: DateReader): string {
  return blocks
    .map((block) =>
      [block.kind, taskOf(block), dates.minuteOf(block.start), dates.minuteOf(block.end)].join(" "),
    )
    .sort()
    .join();
}

function tasksOf(blocks: readonly AnyBlock[]): string {
  return [...new Set(blocks.filter(isWork).map(taskOf))].sort().join();
}

function hasAll(published: readonly AnyBlock[], planned: readonly AnyBlock[]): boolean {
  const now = new Set(planned.filter(isWork).map(taskOf));
  return published.filter(isWork).every((block) => now.has(taskOf(block)));
}
