/**
 * What is published beside the plan that stands: for each crew's day whether the plan still has it as it was promised,
 * and how far the promise holds it. Made once for a plan; the pages word it.
 */
import type { Company, PublishedBlock } from "../domain/company-schema.js";
import type { Plan, PlanBlock } from "../domain/plan-format.js";
import type { CivilDate } from "../domain/time.js";
import { findDifference, type PlanDifference } from "../planner/ways-out/plan-difference.js";
import { DateReader, readWork } from "../planner/ways-out/planned-work.js";
import { findBinding, frozenUntil, type Binding } from "./freeze.js";
import { compareDay, type DayComparison } from "./promised-day.js";
import type { Reading } from "./reading.js";

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

export interface PublishedPromise {
  readonly isPublished: boolean;
  /** Whether whole days are published; otherwise only pieces of work, as a company file may name them. */
  readonly isWhole: boolean;
  /** The last date whose sheets move only when a person says so. */
  readonly frozenUntil: CivilDate;
  /** From what was published to the plan that stands; null where nothing is published. */
  readonly difference: PlanDifference | null;
  readonly by: PublishedBy | null;
  /** A crew's day as published beside the plan's. */
  compare(crew: string, date: CivilDate): DayComparison;
  /** How far what is published for a crew's day binds. */
  bindingOf(crew: string, date: CivilDate): Binding;
  /** What was published for a crew's day, in order of time. */
  publishedOn(crew: string, date: CivilDate): readonly PublishedBlock[];
}

/** Whether whole days are published: what the app publishes is, a company file may name pieces of work alone. */
export function isWholePublished({ published }: Company, by: Pick<PublishedBy, "plan"> | null): boolean {
  return by?.plan != null || (published ?? []).some(({ kind }) => kind !== "work");
}

const UNPUBLISHED: DayComparison = { state: "unpublished", movedTime: null, laterWork: [] };

/** `today`: the date of the company's zone on which it is looked at. */
export function buildPromise(reading: Reading, by: PublishedBy | null, today: CivilDate): PublishedPromise {
  const { company, plan, zone } = reading;
  const { published } = company;
  const dates = new DateReader(zone);
  const asOf = dates.minuteOf(plan.asOf);
  const promised = groupByDay(published ?? [], dates);
  const planned = groupByDay(plan.blocks, dates);
  const isWhole = isWholePublished(company, by);
  const work = readWork(company, published === null ? [] : plan.blocks);
  const publishedOn = (crew: string, date: CivilDate): readonly PublishedBlock[] =>
    promised.get(dayKey(crew, date)) ?? [];
  return {
    isPublished: published !== null,
    isWhole,
    frozenUntil: frozenUntil(company, today),
    difference: published === null ? null : findDifference(company, readWork(company, published), work, asOf),
    by: published === null ? null : by,
    compare: (crew, date) =>
      published === null
        ? UNPUBLISHED
        : compareDay(
            {
              crew,
              date,
              published: publishedOn(crew, date),
              planned: planned.get(dayKey(crew, date)) ?? [],
              isWhole,
            },
            { asOf, dates, work, taskOf: (job, task) => reading.task(job, task) },
          ),
    bindingOf: (crew, date) => findBinding(company, publishedOn(crew, date), date, today),
    publishedOn,
  };
}

const dayKey = (crew: string, date: string): string => `${crew} ${date}`;

function groupByDay<B extends PlanBlock | PublishedBlock>(
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
