/**
 * The reading of what stands, made once for each plan: it is the same for everybody who looks at a page of it, and of a
 * large company it takes longer to make than the page.
 */
import { buildReading, type Reading } from "../board/reading.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";

const readings = new WeakMap<Plan, Reading>();

export function readingOf({ company, plan }: { readonly company: Company; readonly plan: Plan }): Reading {
  const known = readings.get(plan);
  if (known?.company === company) return known;
  const reading = buildReading(company, plan);
  readings.set(plan, reading);
  return reading;
}
