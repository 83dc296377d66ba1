/**
 * Publishing: a plan becomes the promise that crews see. It is read against the rules first, off the thread that answers
 * people; then everything that one transaction writes is made ready: the company with what is published, the sentence
 * for the record, the calls to make, and the plan that stands after it, which is the same plan for the company that has
 * it published.
 */
import { listCallsToMake, type CallFacts } from "../board/calls-to-make.js";
import { buildReading, instantOf } from "../board/reading.js";
import { shortDate } from "../board/spoken-time.js";
import type { Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import { isSameJson } from "../domain/json-equality.js";
import type { Plan } from "../domain/plan-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt, type CivilDate } from "../domain/time.js";
import { toPublishedBlocks, type PublishedInput } from "../planner/published-blocks.js";
import { findDifference, type PlanDifference } from "../planner/ways-out/plan-difference.js";
import { readWork } from "../planner/ways-out/planned-work.js";
import type { Queries } from "../store/database.js";
import { findPlanVersion } from "../store/plan-store.js";
import { listAfter } from "../store/record-store.js";
import type { ChangeFailure } from "./changes/company-change.js";
import type { CheckPlan } from "./plan-checker.js";

/** A plan that is to be published, with the company that it was made for: what was published before stands in it. */
export interface PlanToPublish {
  readonly company: Company;
  /** The JSON of the same company. */
  readonly source: Source;
  readonly plan: Plan;
}

/** All that a publish writes, but for the plan that stands after it. */
export interface PreparedPublish {
  readonly source: Source;
  readonly sentence: string;
  readonly calls: readonly CallFacts[];
}

/** Broken rules that are told; of more, only how many. */
const MOST_TOLD = 5;

/** Ready to be written, or why the plan is not published. */
export async function preparePublish(
  order: PlanToPublish,
  check: CheckPlan,
): Promise<Result<PreparedPublish, ChangeFailure>> {
  const { company, source, plan } = order;
  if (plan.blocks.length === 0) {
    return refuse("nothing-to-publish", "There is no work in this plan, so there is nothing to publish.");
  }
  const published = toPublishedBlocks(company, plan);
  if (isPublished(company, published)) {
    return refuse("published-already", "This plan is published already, so nothing was done.");
  }
  const broken = await check(company, plan);
  if (broken.length > 0) return refuse("plan-broken", sayBroken(broken));
  const difference = findPublishedDifference(company, plan);
  const calls = difference === null ? [] : listCallsToMake(buildReading(company, plan), difference);
  const sentence = sayPublished(order, difference, calls.length);
  // Sound as it is: the company was, and blocks of its own plan name what there is.
  return ok({ source: { ...source, published }, sentence, calls });
}

/** Changes that are told to whoever wanted to publish a plan that stands no more; of more, only the first ones. */
const MOST_SINCE = 10;

/** Why the plan that a person has seen is not published: what has been changed since, or that a better one was found. */
export async function findWhyStale(
  queries: Queries,
  planId: number,
  version: number,
): Promise<ChangeFailure> {
  const companyVersion = await findPlanVersion(queries, planId);
  const since =
    companyVersion === undefined || companyVersion >= version
      ? []
      : await listAfter(queries, companyVersion, MOST_SINCE);
  if (since.length > 0) return { kind: "stale", since };
  const sentence =
    companyVersion === undefined
      ? "There is no such plan any more, so nothing was published. Look at the one that stands."
      : "A better plan has taken the place of the one that you looked at, so nothing was published. " +
        "Look at it, and publish it if it is right.";
  return { kind: "refused", refusal: { kind: "another-plan", sentence } };
}

function isPublished(company: Company, published: readonly PublishedInput[]): boolean {
  return isSameJson(
    company.published,
    published.map((block) => ({ ...block, released: false })),
  );
}

/** The rules that a plan breaks, in one text. */
export function sayBroken(broken: readonly string[]): string {
  const more = broken.length - MOST_TOLD;
  return [
    `The plan breaks ${broken.length === 1 ? "a rule" : "rules"}, so it was not published.`,
    ...broken.slice(0, MOST_TOLD),
    ...(more > 0 ? [`And ${more} more.`] : []),
  ].join(" ");
}

/** What a plan changes of what is published; null where nothing is. */
export function findPublishedDifference(company: Company, plan: Plan): PlanDifference | null {
  if (company.published === null) return null;
  const asOf = instantOf(plan.asOf, company.company.timeZone);
  return findDifference(company, readWork(company, company.published), readWork(company, plan.blocks), asOf);
}

/** "Plan published for Tue 8 Dec to Fri 18 Dec: 3 tasks moved, 2 calls to make." */
function sayPublished(
  { company, plan }: PlanToPublish,
  difference: PlanDifference | null,
  calls: number,
): string {
  const zone = company.company.timeZone;
  const dates = plan.blocks.map(({ start }) => civilDateAt(instantOf(start, zone), zone)).sort(byDate);
  const days = [...new Set([dates[0], dates.at(-1)])].flatMap((date) =>
    date === undefined ? [] : [shortDate(date, "en")],
  );
  const published = `Plan published for ${days.join(" to ")}`;
  if (difference === null) return `${published}, the first one.`;
  const moved = difference.moved.filter(({ before }) => before !== null).length;
  return `${published}: ${count(moved, "task")} moved, ${count(calls, "call")} to make.`;
}

const byDate = (a: CivilDate, b: CivilDate): number => (a < b ? -1 : a > b ? 1 : 0);

function count(number: number, what: string): string {
  return `${number.toLocaleString("en-US")} ${what}${number === 1 ? "" : "s"}`;
}

function refuse(kind: string, sentence: string): Result<never, ChangeFailure> {
  return fail({ kind: "refused", refusal: { kind, sentence } });
}
