/** What a way out writes into the company, written into the company's file. */
import type { Source } from "../domain/company-parts.js";
import type { CompanyEdit } from "../planner/ways-out/company-edits.js";
import { editEntry, editFields, editInJob, entriesIn, type Body } from "./changes/source-edit.js";

/** The file with the edits made in their order; all else as it was written. */
export function editSource(source: Source, edits: readonly CompanyEdit[]): Source {
  return edits.reduce(applyToSource, source);
}

function applyToSource(source: Source, edit: CompanyEdit): Source {
  switch (edit.kind) {
    case "stretch-day":
      return addTo(source, edit.crew, "stretch", edit.date);
    case "extra-day":
      return addTo(source, edit.crew, "extra", { date: edit.date, hours: [...edit.hours] });
    case "name-crew":
      return editTask(source, edit, { crew: edit.crew });
    case "not-before":
      return editTask(source, edit, { notBefore: edit.date });
    case "release": {
      const published = entriesIn(source["published"]).map((block) =>
        isOf(block, edit) ? editFields(block, { released: true }) : block,
      );
      return { ...source, published };
    }
  }
}

function addTo(source: Source, crew: string, field: "stretch" | "extra", entry: unknown): Source {
  return editEntry(source, "crews", crew, (body) =>
    editFields(body, { [field]: [...entriesIn(body[field]), entry] }),
  );
}

interface TaskOf {
  readonly job: string;
  readonly task: string;
}

function editTask(source: Source, { job, task }: TaskOf, fields: Body): Source {
  return editInJob(source, job, "tasks", task, (body) => editFields(body, fields));
}

function isOf(block: unknown, { job, task }: TaskOf): block is Body {
  return (
    typeof block === "object" &&
    block !== null &&
    "job" in block &&
    block.job === job &&
    "task" in block &&
    block.task === task
  );
}
