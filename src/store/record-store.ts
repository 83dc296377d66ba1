/**
 * The record: one row for each change of the company, with what it touched before and after. From it the company can be
 * told as it was at any version. Rows are only ever added.
 */
import { COMPANY_FORMAT } from "../domain/company-schema.js";
import { keyOf, partKinds, toSource, type Part, type Source } from "../domain/company-parts.js";
import { invariant } from "../domain/result.js";
import type { Queries } from "./database.js";

/** What a part was; null in its place where there was none. */
export interface PartState {
  readonly position: number;
  readonly body: unknown;
}
export type PartStates = Readonly<Record<string, PartState | null>>;

/** Who did what, and why. */
export interface ChangeEntry {
  readonly madeAt: Date;
  /** Null where nobody was signed in. */
  readonly personId: number | null;
  /** As the person was called then. */
  readonly personName: string;
  readonly kind: string;
  /** What was done, as a finished sentence. */
  readonly sentence: string;
  readonly why: string;
  /** The change that this one takes back. */
  readonly undoes?: number;
}

export interface RecordedChange extends Required<Omit<ChangeEntry, "undoes">> {
  readonly version: number;
  readonly before: PartStates;
  readonly after: PartStates;
  readonly undoes: number | null;
  /** The change that took this one back. */
  readonly undoneBy: number | null;
}

/** What of the record to read, newest first. */
export interface RecordFilter {
  /** Only changes by people of this name. */
  readonly personName?: string;
  readonly kind?: string;
  /** Only changes that touched one of these parts; `task/harbor-12/`, with a slash at the end, stands for all tasks of a house. */
  readonly touching?: readonly string[];
  /** Only changes before this version: the next page of a longer list. */
  readonly before?: number;
  readonly from?: Date;
  readonly to?: Date;
  readonly limit: number;
}

export async function insertChange(
  queries: Queries,
  change: ChangeEntry & Pick<RecordedChange, "version" | "before" | "after">,
): Promise<void> {
  await queries.query(
    `insert into change
       (version, made_at, person_id, person_name, kind, sentence, why, before, after, undoes)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
    [
      change.version,
      change.madeAt,
      change.personId,
      change.personName,
      change.kind,
      change.sentence,
      change.why,
      JSON.stringify(change.before),
      JSON.stringify(change.after),
      change.undoes ?? null,
    ],
  );
}

const COLUMNS = `change.version, change.made_at as "madeAt", change.person_id as "personId",
  change.person_name as "personName", change.kind, change.sentence, change.why, change.before, change.after,
  change.undoes, undoing.version as "undoneBy"`;
const TABLES = "change left join change undoing on undoing.undoes = change.version";

export async function findChange(queries: Queries, version: number): Promise<RecordedChange | undefined> {
  const [row] = await queries.query<RecordedChange>(
    `select ${COLUMNS} from ${TABLES} where change.version = $1`,
    [version],
  );
  return row;
}

export async function listChanges(
  queries: Queries,
  filter: RecordFilter,
): Promise<readonly RecordedChange[]> {
  return queries.query<RecordedChange>(
    `select ${COLUMNS} from ${TABLES}
     where ($1::text is null or change.person_name = $1)
       and ($2::text is null or change.kind = $2)
       and ($3::text[] is null or exists (
         select 1 from jsonb_object_keys(change.before || change.after) key, unnest($3::text[]) wanted
         where key = wanted or (right(wanted, 1) = '/' and starts_with(key, wanted))))
       and ($4::bigint is null or change.version < $4)
       and ($5::timestamptz is null or change.made_at >= $5)
       and ($6::timestamptz is null or change.made_at < $6)
     order by change.version desc
     limit $7`,
    [
      filter.personName ?? null,
      filter.kind ?? null,
      filter.touching === undefined ? null : [...filter.touching],
      filter.before ?? null,
      filter.from ?? null,
      filter.to ?? null,
      filter.limit,
    ],
  );
}

/** The changes after a version that touched one of these parts, oldest first. */
export async function listTouching(
  queries: Queries,
  keys: readonly string[],
  after: number,
): Promise<readonly RecordedChange[]> {
  return queries.query<RecordedChange>(
    `select ${COLUMNS} from ${TABLES}
     where change.version > $1 and (change.before || change.after) ?| $2::text[]
     order by change.version`,
    [after, [...keys]],
  );
}

/** The changes after a version, oldest first, at most `limit`. */
export async function listAfter(
  queries: Queries,
  version: number,
  limit: number,
): Promise<readonly RecordedChange[]> {
  return queries.query<RecordedChange>(
    `select ${COLUMNS} from ${TABLES} where change.version > $1 order by change.version limit $2`,
    [version, limit],
  );
}

/** The names and kinds that the record has, for a filter to choose from. */
export async function listRecordNames(
  queries: Queries,
): Promise<{ readonly personNames: readonly string[]; readonly kinds: readonly string[] }> {
  const people = await queries.query<{ name: string }>(
    "select distinct person_name as name from change order by 1",
  );
  const kinds = await queries.query<{ name: string }>("select distinct kind as name from change order by 1");
  return { personNames: people.map(({ name }) => name), kinds: kinds.map(({ name }) => name) };
}

/** The company file as it stood at a version; undefined before the first. */
export async function findSourceAt(queries: Queries, version: number): Promise<Source | undefined> {
  return toSource(await findPartsAt(queries, version), COMPANY_FORMAT);
}

/** The parts of the company as they stood at a version, told backwards from those that stand now. */
export async function findPartsAt(queries: Queries, version: number): Promise<readonly Part[]> {
  const rows = await queries.query<Part>("select kind, id, position, body from part");
  const parts = new Map<string, Part>(rows.map((part) => [keyOf(part), part]));
  const later = await queries.query<{ before: PartStates }>(
    "select before from change where version > $1 order by version desc",
    [version],
  );
  for (const { before } of later) applyStates(parts, before);
  return [...parts.values()];
}

/** Puts parts back to what they were. */
export function applyStates(parts: Map<string, Part>, states: PartStates): void {
  for (const [key, state] of Object.entries(states)) {
    if (state === null) parts.delete(key);
    else parts.set(key, { ...parseKey(key), ...state });
  }
}

function parseKey(key: string): Pick<Part, "kind" | "id"> {
  const slash = key.indexOf("/");
  const kind = partKinds.find((known) => known === key.slice(0, slash));
  invariant(kind !== undefined, `the key "${key}" of a part names its kind`);
  return { kind, id: key.slice(slash + 1) };
}

/** The keys that a change touched. */
export function keysOf(change: Pick<RecordedChange, "before" | "after">): readonly string[] {
  return [...new Set([...Object.keys(change.before), ...Object.keys(change.after)])];
}
