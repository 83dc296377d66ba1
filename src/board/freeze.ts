/**
 * How far what is published binds: one rule for day sheets, calendars and the pages of those who live in the houses. A day
 * that is published moves only when a person says so up to the end of the freeze; after it the plan may still move it.
 */
import type { Company, PublishedBlock } from "../domain/company-schema.js";
import { addDays, type CivilDate } from "../domain/time.js";

/** Of what is published for a crew's day. "released": a person has let the plan move it. */
export type Binding = "held" | "forecast" | "released";

/** The last date whose published sheets move only when a person says so. */
export function frozenUntil({ policy }: Company, today: CivilDate): CivilDate {
  return addDays(today, policy.freezeDays);
}

/** `published`: all that is published for the crew on that date. A day gone by is held as it was published. */
export function findBinding(
  company: Company,
  published: readonly PublishedBlock[],
  date: CivilDate,
  today: CivilDate,
): Binding {
  if (published.some(({ released }) => released)) return "released";
  return date > frozenUntil(company, today) ? "forecast" : "held";
}
