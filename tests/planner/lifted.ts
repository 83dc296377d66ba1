/**
 * One constraint of one task lifted in the company file itself, for every kind of reason that a file can lift alone.
 * Nothing here knows the planner.
 */
import type { Company, Job, Task } from "../../src/domain/company-schema.js";
import type { BecauseKind } from "../../src/domain/plan-format.js";

type Lift = (company: Company, job: Job, task: Task) => Company;

/** The kinds that can be lifted for one task (or one house), and how. */
export const LIFTS: ReadonlyMap<BecauseKind, Lift> = new Map<BecauseKind, Lift>([
  ["access", (company, job) => withJob(company, job, { access: null })],
  [
    "hold",
    (company, job) => ({
      ...company,
      holds: company.holds.map((hold) => ({
        ...hold,
        jobs: company.jobs
          .map(({ id }) => id)
          .filter((id) => id !== job.id && (hold.jobs === "all" || hold.jobs.includes(id))),
      })),
    }),
  ],
  ["after-task", (company, job, task) => withoutEdges(company, job, task, (before) => before.trade !== null)],
  ["wait", (company, job, task) => withoutEdges(company, job, task, (before) => before.trade === null)],
  [
    "curing",
    (company, job, task) =>
      withTask(company, job, task, { after: task.after.map((edge) => ({ ...edge, lagHours: 0 })) }),
  ],
  ["not-before", (company, job, task) => withTask(company, job, task, { notBefore: null })],
  ["delivery", (company, job, task) => withTask(company, job, task, { needs: [] })],
  [
    "equipment",
    (company) => ({ ...company, equipment: company.equipment.map((item) => ({ ...item, count: 1000 })) }),
  ],
  [
    "published",
    (company, job, task) => ({
      ...company,
      published: (company.published ?? []).filter((block) => block.job !== job.id || block.task !== task.id),
    }),
  ],
]);

function withJob(company: Company, job: Job, change: Partial<Job>): Company {
  return { ...company, jobs: company.jobs.map((one) => (one.id === job.id ? { ...one, ...change } : one)) };
}

function withTask(company: Company, job: Job, task: Task, change: Partial<Task>): Company {
  const tasks = job.tasks.map((one) => (one.id === task.id ? { ...one, ...change } : one));
  return withJob(company, job, { tasks });
}

/** Without the edges that lead to tasks of a kind, lags and all. */
function withoutEdges(company: Company, job: Job, task: Task, isLifted: (before: Task) => boolean): Company {
  const after = task.after.filter((edge) => {
    const before = job.tasks.find((one) => one.id === edge.task);
    return before === undefined || !isLifted(before);
  });
  return withTask(company, job, task, { after });
}
