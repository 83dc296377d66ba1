/** Two crews change places for a day: each works what the other would have begun. */
import { fail, ok } from "../../domain/result.js";
import { civilDateAt } from "../../domain/time.js";
import type { CompanyEdit } from "./company-edits.js";
import {
  findCrew,
  listChainOf,
  minuteOf,
  nameCrew,
  release,
  reorderPlan,
  say,
  sayDate,
  whyNotBy,
  type FoundTask,
} from "./wish-case.js";
import type { SwapCrews, WishCase, WishResult } from "./wishes.js";

export function applySwapCrews({ company, asOf, order }: WishCase, wish: SwapCrews): WishResult {
  const { timeZone } = company.company;
  const { date } = wish;
  const one = findCrew(company, wish.crews[0]);
  if (!one.ok) return one;
  const other = findCrew(company, wish.crews[1]);
  if (!other.ok) return other;
  if (one.value === other.value) return fail(`${one.value.name} cannot change places with itself.`);
  if (date < civilDateAt(asOf, timeZone)) return fail(`${sayDate(date)} has gone by.`);
  const edits: CompanyEdit[] = [];
  const takers = new Map<string, string>();
  for (const [from, to] of [
    [one.value, other.value],
    [other.value, one.value],
  ] as const) {
    for (const found of listWorked(order, { company, crew: from.id, date })) {
      const begins = civilDateAt(minuteOf(company, found.start), timeZone);
      if (found.task.status === "under-way" || begins < date) {
        return fail(`${from.name} has begun ${say(found)} by then: what is begun stays with its crew.`);
      }
      const why = whyNotBy(company, found, to);
      if (why !== undefined) return fail(why);
      const named = nameCrew(company, found, to.id);
      edits.push(...named, ...release(company, found.job, listChainOf(found)));
      for (const edit of named) if ("task" in edit) takers.set(`${found.job.id}/${edit.task}`, to.id);
    }
  }
  if (takers.size === 0) {
    return fail(`Neither ${one.value.name} nor ${other.value.name} has anything to do on ${sayDate(date)}.`);
  }
  const once = new Map(edits.map((edit) => [JSON.stringify(edit), edit]));
  return ok({
    edits: [...once.values()],
    order: reorderPlan(order, (entry) => {
      const crew = takers.get(`${entry.job}/${entry.task}`);
      return crew === undefined ? entry : { ...entry, crew };
    }),
  });
}

/** The open tasks that a crew works on a date. */
function listWorked(
  order: WishCase["order"],
  { company, crew, date }: Pick<WishCase, "company"> & { readonly crew: string; readonly date: string },
): readonly (FoundTask & { readonly start: string })[] {
  const { timeZone } = company.company;
  const worked = new Set(
    order.blocks
      .filter((block) => block.kind === "work" && block.crew === crew)
      .filter((block) => civilDateAt(minuteOf(company, block.start), timeZone) === date)
      .map((block) => `${block.job ?? ""}/${block.task ?? ""}`),
  );
  return order.tasks.flatMap((entry) => {
    const job = company.jobs.find(({ id }) => id === entry.job);
    const task = job?.tasks.find(({ id }) => id === entry.task);
    if (!job || !task || task.status === "done" || !worked.has(`${job.id}/${task.id}`)) return [];
    return [{ job, task, start: entry.start }];
  });
}
