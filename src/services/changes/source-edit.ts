/**
 * Edits to one entry of a company file's JSON, with everything else left as it was written. What comes out is checked
 * as a whole by whoever asked.
 */
import type { Source } from "../../domain/company-parts.js";

/** The fields of one entry. */
export type Body = Readonly<Record<string, unknown>>;

/** New values for some fields of an entry; `undefined` takes a field out. */
export type FieldEdit = Readonly<Record<string, unknown>>;

/** The entry with the fields put in or taken out; the others keep their place. */
export function editFields(body: Body, edit: FieldEdit): Body {
  return Object.fromEntries(Object.entries({ ...body, ...edit }).filter(([, value]) => value !== undefined));
}

/** The file with the entry of that id in a top-level list edited. */
export function editEntry(
  source: Source,
  list: "crews" | "jobs" | "holds",
  id: string,
  edit: (body: Body) => Body,
): Source {
  return { ...source, [list]: editInList(source[list], id, edit) };
}

/** The file with the entry of that id in a list of one house edited. */
export function editInJob(
  source: Source,
  job: string,
  list: "tasks" | "deliveries",
  id: string,
  edit: (body: Body) => Body,
): Source {
  return editEntry(source, "jobs", job, (body) => ({ ...body, [list]: editInList(body[list], id, edit) }));
}

/** What stands in a list of the file; nothing where it was left out. */
export function entriesIn(list: unknown): readonly unknown[] {
  return Array.isArray(list) ? list : [];
}

function editInList(list: unknown, id: string, edit: (body: Body) => Body): readonly unknown[] {
  return entriesIn(list).map((entry) => (hasId(entry, id) ? edit(entry) : entry));
}

/** Whether a value is an entry with that id. */
export function hasId(entry: unknown, id: string): entry is Body {
  return typeof entry === "object" && entry !== null && "id" in entry && entry.id === id;
}
