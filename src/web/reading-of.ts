/**
 * The reading of what stands, made once for each plan: it is the same for everybody who looks at a page of it, and of a
 * large company it takes longer to make than the page.
 */
import { buildPromise, type PublishedPromise } from "../board/promise.js";
import { buildPromisedReading } from "../board/promised-reading.js";
import { buildReading, type Reading } from "../board/reading.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { CivilDate } from "../domain/time.js";
import type { DeskState } from "../services/desk.js";

const readings = new WeakMap<Plan, Reading>();

export function readingOf({ company, plan }: { readonly company: Company; readonly plan: Plan }): Reading {
  const known = readings.get(plan);
  if (known?.company === company) return known;
  const reading = buildReading(company, plan);
  readings.set(plan, reading);
  return reading;
}

const promises = new WeakMap<Plan, { readonly today: CivilDate; readonly promise: PublishedPromise }>();
const crewReadings = new WeakMap<PublishedPromise, Reading>();

type Standing = Pick<DeskState, "company" | "plan" | "publication" | "today">;

/** What is published beside what stands; made once for a plan and a day. */
export function promiseOf({ company, plan, publication, today }: Standing): PublishedPromise {
  const known = promises.get(plan);
  if (known?.today === today) return known.promise;
  const promise = buildPromise(readingOf({ company, plan }), publication, today);
  promises.set(plan, { today, promise });
  return promise;
}

/** What crews read of it. */
export function crewReadingOf(state: Standing): Reading {
  const promise = promiseOf(state);
  const known = crewReadings.get(promise);
  if (known !== undefined) return known;
  const reading = buildPromisedReading(readingOf(state), promise, state.today);
  crewReadings.set(promise, reading);
  return reading;
}
