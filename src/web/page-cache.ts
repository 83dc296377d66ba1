/**
 * Pages that are the same for everybody who looks at one plan with one name and role, kept as they were sent: boards and
 * day sheets are asked for far more often than plans are made. They go with the plan.
 */
import type { Response } from "express";
import type { Plan } from "../domain/plan-format.js";
import type { PackedText } from "./packing.js";
import { whoOf } from "./who.js";

export interface FinishedPage {
  readonly html: PackedText;
  readonly contentPolicy: string;
}

/** Pages of one plan, at most: beyond that somebody turns over dates that nobody else looks at. */
const MOST_PAGES = 1_000;

const pagesOf = new WeakMap<Plan, Map<string, FinishedPage>>();

/** Whose page it is: the masthead names the person, offers what the role may do, and counts open reports. */
export function cacheKey(res: Response, what: string): string {
  const who = whoOf(res);
  const reader =
    who.kind === "person"
      ? [
          who.person.role,
          who.isAutomatic,
          who.person.name,
          res.locals["openReports"],
          res.locals["reportsMark"],
        ]
      : [who.kind];
  return JSON.stringify([what, ...reader]);
}

export function findFinished(plan: Plan, key: string): FinishedPage | undefined {
  return pagesOf.get(plan)?.get(key);
}

export function keepFinished(plan: Plan, key: string, page: FinishedPage): void {
  const pages = pagesOf.get(plan) ?? new Map<string, FinishedPage>();
  pagesOf.set(plan, pages);
  if (pages.size < MOST_PAGES) pages.set(key, page);
}
