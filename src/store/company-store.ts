/**
 * The company in the database: read as a whole, changed as a whole, and every change on record in the same transaction.
 * Changes are made one after another, whichever process makes them: so a rule that spans parts is checked against what
 * really stands. Whoever listens on CHANGES hears of each change with its version.
 */
import { COMPANY_FORMAT } from "../domain/company-schema.js";
import {
  keepPositions,
  keyOf,
  listParts,
  partKinds,
  toSource,
  type Part,
  type PartKey,
  type Source,
} from "../domain/company-parts.js";
import { isSameJson } from "../domain/json-equality.js";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import type { Database, Queries } from "./database.js";
import { insertChange, type ChangeEntry, type PartState } from "./record-store.js";

/** What stands in the database. */
export interface StoredCompany {
  /** How many changes have been made. */
  readonly version: number;
  /** The company file that the parts make; undefined before the first one was loaded. */
  readonly source: Source | undefined;
  readonly parts: ReadonlyMap<PartKey, StoredPart>;
}

export interface StoredPart extends Part {
  /** The version of the company at which this part was written last. */
  readonly version: number;
}

/** A change that may be written: the whole company after it, and what the record says of it. */
export interface CompanyWrite {
  readonly source: Source;
  readonly entry: ChangeEntry;
  /** What else is written with it, once the change of that version is on record: all of it or nothing. */
  readonly also?: (queries: Queries, version: number) => Promise<void>;
}

/** Decides on a change, given what stands. Runs again when the transaction does, so it must do nothing else. */
export type DecideWrite<F> = (stored: StoredCompany, queries: Queries) => Promise<Result<CompanyWrite, F>>;

/** The channel on which a change tells its version. */
export const CHANGES = "daylap_change";

/** The zone of the company's clock; undefined where there is no company. */
export async function findTimeZone(queries: Queries): Promise<string | undefined> {
  const rows = await queries.query<{ zone: string }>(
    "select body ->> 'timeZone' as zone from part where kind = 'company'",
  );
  return rows[0]?.zone;
}

export class CompanyStore {
  readonly #database: Database;
  /** What was read or written last: a version never changes, so it need not be read twice. */
  #known: StoredCompany | undefined;

  constructor(database: Database) {
    this.#database = database;
  }

  /** The company as the database has it now. */
  async read(): Promise<StoredCompany> {
    return this.#database.transaction((queries) => this.#readIn(queries));
  }

  /** Makes a change, or none at all: what `decide` refuses comes back as it is, and nothing is written. */
  async write<F>(decide: DecideWrite<F>): Promise<Result<StoredCompany, F>> {
    const written = await this.#database.transaction(async (queries): Promise<Result<StoredCompany, F>> => {
      // Taken before anything is read, so that what is read is what the change before this one left.
      await queries.query("lock table company_state in share row exclusive mode");
      const stored = await this.#readIn(queries);
      const decided = await decide(stored, queries);
      if (!decided.ok) return fail(decided.error);
      return ok(await writeParts(queries, stored, decided.value));
    });
    if (written.ok) this.#known = written.value;
    return written;
  }

  async #readIn(queries: Queries): Promise<StoredCompany> {
    const [state] = await queries.query<{ version: number }>("select version from company_state");
    invariant(state !== undefined, "the database has a row for the company's version");
    if (this.#known?.version === state.version) return this.#known;
    const rows = await queries.query<PartRow>("select kind, id, position, version, body from part");
    return (this.#known = toStored(state.version, rows.map(toPart)));
  }
}

interface PartRow {
  readonly kind: string;
  readonly id: string;
  readonly position: number;
  readonly version: number;
  readonly body: unknown;
}

function toPart(row: PartRow): StoredPart {
  const kind = partKinds.find((known) => known === row.kind);
  invariant(kind !== undefined, `the kind "${row.kind}" of a part is known`);
  return { ...row, kind };
}

function toStored(version: number, parts: readonly StoredPart[]): StoredCompany {
  const byKey = new Map(parts.map((part) => [keyOf(part), part]));
  return { version, source: toSource(parts, COMPANY_FORMAT), parts: byKey };
}

/** Writes what differs, and the record of it. */
async function writeParts(
  queries: Queries,
  stored: StoredCompany,
  { source, entry, also }: CompanyWrite,
): Promise<StoredCompany> {
  const version = stored.version + 1;
  const after = new Map<PartKey, StoredPart>();
  const changed: StoredPart[] = [];
  for (const part of keepPositions(listParts(source), stored.parts)) {
    const key = keyOf(part);
    const old = stored.parts.get(key);
    const isSame = old !== undefined && old.position === part.position && isSameJson(old.body, part.body);
    const kept = isSame ? old : { ...part, version };
    after.set(key, kept);
    if (!isSame) changed.push(kept);
  }
  const gone = [...stored.parts.keys()].filter((key) => !after.has(key));
  await deleteParts(queries, gone);
  await upsertParts(queries, changed);
  await queries.query("update company_state set version = $1", [version]);
  const touched = [...changed.map(keyOf), ...gone];
  await insertChange(queries, {
    ...entry,
    version,
    before: toStates(touched, stored.parts),
    after: toStates(touched, after),
  });
  await also?.(queries, version);
  await queries.query("select pg_notify($1, $2)", [CHANGES, String(version)]);
  return toStored(version, [...after.values()]);
}

async function deleteParts(queries: Queries, keys: readonly PartKey[]): Promise<void> {
  if (keys.length === 0) return;
  await queries.query("delete from part where kind || '/' || id = any($1::text[])", [keys]);
}

/** In one statement however many there are: as JSON, which the database takes apart. */
async function upsertParts(queries: Queries, parts: readonly StoredPart[]): Promise<void> {
  if (parts.length === 0) return;
  await queries.query(
    `insert into part (kind, id, position, version, body)
     select kind, id, position, version, body
     from jsonb_to_recordset($1::jsonb) as given (kind text, id text, position integer, version bigint, body jsonb)
     on conflict (kind, id)
     do update set position = excluded.position, version = excluded.version, body = excluded.body`,
    [JSON.stringify(parts)],
  );
}

function toStates(
  keys: readonly PartKey[],
  parts: ReadonlyMap<PartKey, Part>,
): Readonly<Record<string, PartState | null>> {
  return Object.fromEntries(
    keys.map((key) => {
      const part = parts.get(key);
      return [key, part === undefined ? null : { position: part.position, body: part.body }];
    }),
  );
}
