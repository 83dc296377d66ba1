/**
 * A company file taken apart into the things that people edit one at a time, and put together again.
 * Each part keeps what was written, defaults left out stay left out. A list without entries is the same as none.
 * Parts of one kind are in order of their positions; a task's or a delivery's position is its place within its job.
 */
import { invariant } from "./result.js";

/** The JSON object of a company file, before or after it was parsed. */
export type Source = Readonly<Record<string, unknown>>;

export const partKinds = [
  "company",
  "policy",
  "trade",
  "crew",
  "equipment",
  "job",
  "task",
  "delivery",
  "hold",
  "published",
] as const;
export type PartKind = (typeof partKinds)[number];

export interface Part {
  readonly kind: PartKind;
  /** Unique within its kind. Of a task or a delivery: the job's id, a slash, its own. */
  readonly id: string;
  readonly position: number;
  /** The JSON as in the file; of a job without its tasks and deliveries. */
  readonly body: unknown;
}

/** `task/harbor-12/t3`: a part among all of a company. Ids have no slash in them. */
export type PartKey = `${PartKind}/${string}`;

/** Where there is only one of a kind, its id. */
const ONLY = "only";
const LISTS = { trade: "trades", crew: "crews", equipment: "equipment", hold: "holds" } as const;
const JOB_LISTS = { task: "tasks", delivery: "deliveries" } as const;

export function keyOf(part: { readonly kind: PartKind; readonly id: string }): PartKey {
  return `${part.kind}/${part.id}`;
}

/** Key of the part of which there is only one. */
export function onlyKey(kind: "company" | "policy" | "published"): PartKey {
  return `${kind}/${ONLY}`;
}

/** The parts of a file that has passed every check, with positions from 0. */
export function listParts(source: Source): Part[] {
  return [
    ...listOnly("company", source["company"]),
    ...listOnly("policy", source["policy"]),
    ...Object.entries(LISTS).flatMap(([kind, field]) => listEntries(toKind(kind), "", listOf(source[field]))),
    ...listOf(source["jobs"]).flatMap(listJobParts),
    ...listOnly("published", source["published"]),
  ];
}

/** The file that the parts came from; undefined where there is no company among them. */
export function toSource(parts: Iterable<Part>, format: string): Source | undefined {
  const byKind = new Map<PartKind, Part[]>(partKinds.map((kind) => [kind, []]));
  for (const part of parts) byKind.get(part.kind)?.push(part);
  for (const list of byKind.values()) list.sort((left, right) => left.position - right.position);
  const bodies = (kind: PartKind): unknown[] => (byKind.get(kind) ?? []).map((part) => part.body);
  const [company] = bodies("company");
  if (company === undefined) return undefined;
  const jobs = (byKind.get("job") ?? []).map((job) => ({
    ...toObject(job.body),
    ...Object.fromEntries(
      Object.entries(JOB_LISTS).flatMap(([kind, field]) =>
        fieldOf(field, ofJob(byKind.get(toKind(kind)) ?? [], job.id)),
      ),
    ),
  }));
  return {
    format,
    company,
    ...only("policy", bodies("policy")),
    trades: bodies("trade"),
    crews: bodies("crew"),
    ...Object.fromEntries(fieldOf("equipment", bodies("equipment"))),
    ...Object.fromEntries(fieldOf("jobs", jobs)),
    ...Object.fromEntries(fieldOf("holds", bodies("hold"))),
    ...only("published", bodies("published")),
  };
}

/**
 * The parts with the positions that they had before, wherever the order is the same, so that what only moved up because
 * something before it went away counts as untouched. A list whose order changed is numbered anew.
 */
export function keepPositions(parts: readonly Part[], before: ReadonlyMap<PartKey, Part>): Part[] {
  const lists = new Map<string, Part[]>();
  for (const part of parts) {
    const list = listKeyOf(part);
    lists.set(list, [...(lists.get(list) ?? []), part]);
  }
  return [...lists.values()].flatMap((list) => placeList(list, before));
}

function placeList(list: readonly Part[], before: ReadonlyMap<PartKey, Part>): Part[] {
  const placed: Part[] = [];
  let last = -1;
  let hasNew = false;
  for (const part of list) {
    const old = before.get(keyOf(part))?.position;
    // Something new in the middle, or an old one out of its turn: the whole list gets new numbers.
    if (old !== undefined && (hasNew || old <= last)) {
      return list.map((item, position) => ({ ...item, position }));
    }
    hasNew ||= old === undefined;
    last = old ?? last + 1;
    placed.push({ ...part, position: last });
  }
  return placed;
}

function listKeyOf({ kind, id }: Part): string {
  const slash = id.indexOf("/");
  return slash < 0 ? kind : `${kind}/${id.slice(0, slash)}`;
}

function listJobParts(value: unknown, position: number): Part[] {
  const { tasks, deliveries, ...body } = toObject(value);
  const id = idOf(body);
  return [
    { kind: "job", id, position, body },
    ...listEntries("task", `${id}/`, listOf(tasks)),
    ...listEntries("delivery", `${id}/`, listOf(deliveries)),
  ];
}

function listEntries(kind: PartKind, prefix: string, entries: readonly unknown[]): Part[] {
  return entries.map((body, position) => ({ kind, id: prefix + idOf(body), position, body }));
}

function listOnly(kind: PartKind, body: unknown): Part[] {
  return body === undefined || body === null ? [] : [{ kind, id: ONLY, position: 0, body }];
}

function ofJob(parts: readonly Part[], job: string): unknown[] {
  return parts.filter((part) => part.id.startsWith(`${job}/`)).map((part) => part.body);
}

function only(field: string, [body]: readonly unknown[]): Source {
  return body === undefined ? {} : { [field]: body };
}

/** Nothing for an empty list. */
function fieldOf(field: string, list: readonly unknown[]): [string, unknown][] {
  return list.length === 0 ? [] : [[field, list]];
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function idOf(body: unknown): string {
  const { id } = toObject(body);
  invariant(typeof id === "string", "each entry of a checked company file has an id");
  return id;
}

function toObject(value: unknown): Readonly<Record<string, unknown>> {
  invariant(typeof value === "object" && value !== null, "each entry of a checked company file is an object");
  return Object.fromEntries(Object.entries(value));
}

function toKind(text: string): PartKind {
  const kind = partKinds.find((known) => known === text);
  invariant(kind !== undefined, `"${text}" is a kind of part`);
  return kind;
}
