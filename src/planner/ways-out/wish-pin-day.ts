/** A task on a day: not before it, and on it as early as the crew can be there. */
import { zoneOfJob } from "../../domain/company-schema.js";
import type { Task } from "../../domain/company-schema.js";
import { fail, ok } from "../../domain/result.js";
import { dayStart, parseInstant, toIso } from "../../domain/time.js";
import {
  dateAt,
  findWork,
  listChainOf,
  minuteOf,
  release,
  reorderPlan,
  say,
  sayDate,
  type FoundTask,
} from "./wish-case.js";
import type { PinDay, WishCase, WishResult } from "./wishes.js";

export function applyPinDay({ company, asOf, order }: WishCase, wish: PinDay): WishResult {
  const found = findWork(company, wish.job, wish.task);
  if (!found.ok) return found;
  const { job, task } = found.value;
  const { date } = wish;
  const zone = zoneOfJob(company, job);
  if (date < dateAt(company, job, asOf)) return fail(`${sayDate(date)} has gone by.`);
  if (task.status === "under-way") return fail(`${say(found.value)} is under way: it is not begun again.`);
  const start = dayStart(date, zone);
  const gate = task.notBefore === null ? undefined : parseInstant(task.notBefore, zone);
  if (gate !== undefined && dateAt(company, job, gate) > date) {
    return fail(`${say(found.value)} may not start before ${sayDate(dateAt(company, job, gate))}.`);
  }
  const chain = listChainOf(found.value);
  const hurried = listBefore(found.value, chain);
  const keepsGate = gate !== undefined && gate > start;
  return ok({
    edits: [
      ...(keepsGate ? [] : [{ kind: "not-before" as const, job: job.id, task: task.id, date }]),
      ...release(company, job, [...chain, ...hurried]),
    ],
    order: reorderPlan(order, (entry) => {
      if (entry.job !== job.id) return entry;
      const isPinned = chain.some(({ id }) => id === entry.task);
      const isHurried =
        hurried.some(({ id }) => id === entry.task) && minuteOf(company, entry.start) >= start;
      return isPinned || isHurried ? { ...entry, start: toIso(start, zone) } : entry;
    }),
  });
}

/** What must be done before, and is not. */
function listBefore({ job }: FoundTask, chain: readonly Task[]): readonly Task[] {
  const found = new Set<Task>();
  const visit = (task: Task): void => {
    for (const { task: id } of task.after) {
      const before = job.tasks.find((one) => one.id === id);
      if (!before || before.status === "done" || chain.includes(before) || found.has(before)) continue;
      found.add(before);
      visit(before);
    }
  };
  chain.forEach(visit);
  return [...found];
}
