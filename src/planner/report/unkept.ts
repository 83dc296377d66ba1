/**
 * Published work inside the freeze that the plan does not keep, and the reason that moves it (rule 11, reading 20).
 */
import { present } from "../../domain/result.js";
import type { Plan, PlanTask } from "../../domain/plan-format.js";
import type { Compiled } from "../compile/compile.js";
import type { PublishedPromise } from "../compile/promises.js";
import type { WorkDates } from "./changes.js";

/** `whyMoved` gives the sentence of a task that is planned for another day, `whyImpossible` of one that is left out. */
export function listUnkept(
  compiled: Compiled,
  worked: WorkDates,
  tasks: readonly PlanTask[],
  whyMoved: (job: string, task: string) => string,
  whyImpossible: (job: string, task: string) => string,
): Plan["unkept"] {
  const { promises, company } = compiled;
  const seen = new Set<string>();
  return promises.flatMap((promise) => {
    const { job, task, crew, date } = promise;
    if (isWorked(worked, promise) || seen.has(nameOf(promise))) return [];
    seen.add(nameOf(promise));
    const planned = tasks.find((one) => one.job === job && one.task === task);
    if (isDoneBefore(compiled, worked, promise, planned)) return [];
    const house = present(
      company.jobs.find((one) => one.id === job),
      "a published job",
    ).name;
    const name = company.crews.find((one) => one.id === crew)?.name ?? crew;
    if (planned === undefined) {
      return [{ job, task, crew, date, why: `It cannot be planned at all. ${whyImpossible(job, task)}` }];
    }
    const why =
      planned.crew === crew ? whyMoved(job, task) : `Crew ${name} may no longer work it at ${house}.`;
    return [{ job, task, crew, date, why }];
  });
}

function isWorked(worked: WorkDates, { job, task, crew, date }: PublishedPromise): boolean {
  return worked.get(`${job}/${task}`)?.has(`${crew}/${date}`) === true;
}

const nameOf = ({ job, task, crew, date }: PublishedPromise): string => `${job}/${task}/${crew}/${date}`;

/** Less was left than was published, or it had begun before: its crew is through before that date. */
function isDoneBefore(
  { days, open, promises }: Compiled,
  worked: WorkDates,
  { job, task, crew, date }: PublishedPromise,
  planned: PlanTask | undefined,
): boolean {
  if (planned?.crew !== crew || days.date(days.dayOf(days.parse(planned.end))) >= date) return false;
  const same = (one: { readonly job: string; readonly task: string }): boolean =>
    one.job === job && one.task === task;
  const underWay = open.some(
    (one) => same({ job: one.job.id, task: one.task.id }) && one.task.status === "under-way",
  );
  return underWay || promises.some((other) => same(other) && other.date < date && isWorked(worked, other));
}
