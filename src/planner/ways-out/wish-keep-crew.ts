/** A crew stays where it is: its tasks at its present house come before all its others. */
import type { Company, Job } from "../../domain/company-schema.js";
import type { Plan, PlanTask } from "../../domain/plan-format.js";
import { fail, ok } from "../../domain/result.js";
import { toIso } from "../../domain/time.js";
import { boundCrew } from "../compile/staffing.js";
import { findCrew, minuteOf, release, reorderPlan, say } from "./wish-case.js";
import type { KeepCrew, WishCase, WishResult } from "./wishes.js";

export function applyKeepCrew({ company, asOf, order }: WishCase, wish: KeepCrew): WishResult {
  const crew = findCrew(company, wish.crew);
  if (!crew.ok) return crew;
  const { id, name } = crew.value;
  const own = listOwn(company, order, id);
  const here = findPresentHouse(company, order, id);
  if (here === undefined) return fail(`${name} is at no house: it has nothing to do.`);
  for (const job of company.jobs) {
    const begun = job.tasks.find((task) => task.status === "under-way" && boundCrew(task) === id);
    if (begun && job !== here) {
      return fail(`${name} has begun ${say({ job, task: begun })}, which comes before everything else.`);
    }
  }
  const elsewhere = company.jobs.filter((job) => job !== here);
  const { timeZone } = company.company;
  const inOrder = own
    .filter((entry) => entry.job === here.id)
    .sort((a, b) => minuteOf(company, a.start) - minuteOf(company, b.start));
  const place = new Map(inOrder.map((entry, index) => [entry.task, index]));
  return ok({
    edits: elsewhere.flatMap((job) =>
      release(
        company,
        job,
        job.tasks.filter((task) => own.some((entry) => entry.job === job.id && entry.task === task.id)),
      ),
    ),
    order: reorderPlan(order, (entry) => {
      const index = entry.job === here.id && entry.crew === id ? place.get(entry.task) : undefined;
      // Minutes only tell which comes first.
      return index === undefined ? entry : { ...entry, start: toIso(asOf + index, timeZone) };
    }),
  });
}

/** The open tasks of a crew in the order to hold. */
export function listOwn(company: Company, order: Plan, crew: string): readonly PlanTask[] {
  return order.tasks.filter((entry) => {
    const task = company.jobs.find(({ id }) => id === entry.job)?.tasks.find(({ id }) => id === entry.task);
    return entry.crew === crew && task !== undefined && task.status !== "done";
  });
}

/** The house at which a crew has something under way, else the one at which it works first. */
export function findPresentHouse(company: Company, order: Plan, crew: string): Job | undefined {
  const underWay = company.jobs.find((job) =>
    job.tasks.some((task) => task.status === "under-way" && boundCrew(task) === crew),
  );
  const [first] = [...listOwn(company, order, crew)].sort(
    (a, b) => minuteOf(company, a.start) - minuteOf(company, b.start),
  );
  return underWay ?? company.jobs.find(({ id }) => id === first?.job);
}
