/**
 * What a way out writes into the company: longer days, and what the dispatcher wished. Small, so that whoever keeps the
 * company file can write the same there.
 */
import type { Company, Crew, Job, Task } from "../../domain/company-schema.js";
import type { CivilDate } from "../../domain/time.js";

export type CompanyEdit =
  | { readonly kind: "stretch-day"; readonly crew: string; readonly date: CivilDate }
  | {
      readonly kind: "extra-day";
      readonly crew: string;
      readonly date: CivilDate;
      readonly hours: readonly [string, string];
    }
  | { readonly kind: "name-crew"; readonly job: string; readonly task: string; readonly crew: string }
  | { readonly kind: "not-before"; readonly job: string; readonly task: string; readonly date: CivilDate }
  /** Published blocks of a task may move. */
  | { readonly kind: "release"; readonly job: string; readonly task: string };

/** The company with the edits made, in their order. What it does not touch stays the same object. */
export function applyEdits(company: Company, edits: readonly CompanyEdit[]): Company {
  return edits.reduce(applyEdit, company);
}

function applyEdit(company: Company, edit: CompanyEdit): Company {
  switch (edit.kind) {
    case "stretch-day":
      return editCrew(company, edit.crew, (crew) => ({ ...crew, stretch: [...crew.stretch, edit.date] }));
    case "extra-day": {
      const { date, hours } = edit;
      return editCrew(company, edit.crew, (crew) => ({
        ...crew,
        extra: [...crew.extra, { date, hours, why: "" }],
      }));
    }
    case "name-crew":
      return editTask(company, edit, (task) => ({ ...task, crew: edit.crew }));
    case "not-before":
      return editTask(company, edit, (task) => ({ ...task, notBefore: edit.date }));
    case "release":
      return {
        ...company,
        published:
          company.published?.map((block) =>
            block.job === edit.job && block.task === edit.task ? { ...block, released: true } : block,
          ) ?? null,
      };
  }
}

function editCrew(company: Company, id: string, edit: (crew: Crew) => Crew): Company {
  return { ...company, crews: company.crews.map((crew) => (crew.id === id ? edit(crew) : crew)) };
}

function editTask(
  company: Company,
  { job: jobId, task: id }: { readonly job: string; readonly task: string },
  edit: (task: Task) => Task,
): Company {
  const editIn = (job: Job): Job => ({
    ...job,
    tasks: job.tasks.map((task) => (task.id === id ? edit(task) : task)),
  });
  return { ...company, jobs: company.jobs.map((job) => (job.id === jobId ? editIn(job) : job)) };
}
