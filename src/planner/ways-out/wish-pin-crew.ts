/** A task for a crew. */
import { fail, ok } from "../../domain/result.js";
import { findCrew, findWork, listChainOf, nameCrew, release, reorderPlan, whyNotBy } from "./wish-case.js";
import type { PinCrew, WishCase, WishResult } from "./wishes.js";

export function applyPinCrew({ company, order }: WishCase, wish: PinCrew): WishResult {
  const found = findWork(company, wish.job, wish.task);
  if (!found.ok) return found;
  const crew = findCrew(company, wish.crew);
  if (!crew.ok) return crew;
  const why = whyNotBy(company, found.value, crew.value);
  if (why !== undefined) return fail(why);
  const { job } = found.value;
  const edits = nameCrew(company, found.value, crew.value.id);
  const named = new Set(edits.map((edit) => ("task" in edit ? edit.task : "")));
  return ok({
    edits: [...edits, ...release(company, job, listChainOf(found.value))],
    order: reorderPlan(order, (entry) =>
      entry.job === job.id && named.has(entry.task) ? { ...entry, crew: crew.value.id } : entry,
    ),
  });
}
