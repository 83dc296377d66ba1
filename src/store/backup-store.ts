/**
 * All tables of the database as JSON, and back. A backup holds every table but those that are worth nothing elsewhere:
 * open sessions, one-time links, counted sign-in attempts, and the list of migrations, which the database has itself.
 */
import { invariant } from "../domain/result.js";
import type { Queries } from "./database.js";

/** In an order in which each table comes after those that it refers to. */
export const BACKED_UP = [
  "part",
  "change",
  "plan",
  "person",
  "crew_link",
  "people_change",
  "call_to_make",
  "private_link",
  "fed_event",
] as const;
export const LEFT_OUT = ["company_state", "migration", "session", "invitation", "sign_in_attempt"] as const;
export type BackedUpTable = (typeof BACKED_UP)[number];

export type TableRow = Readonly<Record<string, unknown>>;
export type Tables = Readonly<Record<BackedUpTable, readonly TableRow[]>>;

/** Every row of every table that is backed up, each table by its key. */
export async function readTables(queries: Queries): Promise<Tables> {
  const rows = new Map<BackedUpTable, readonly TableRow[]>();
  for (const table of BACKED_UP) {
    const read = await queries.query<{ row: TableRow }>(
      `select to_jsonb(${table}) as row from ${table} order by ${await keyOf(queries, table)}`,
    );
    rows.set(
      table,
      read.map(({ row }) => row),
    );
  }
  return byTable((table) => rows.get(table) ?? []);
}

/** Makes one value for each table that is backed up. */
export function byTable<T>(make: (table: BackedUpTable) => T): Readonly<Record<BackedUpTable, T>> {
  return {
    part: make("part"),
    change: make("change"),
    plan: make("plan"),
    person: make("person"),
    crew_link: make("crew_link"),
    people_change: make("people_change"),
    call_to_make: make("call_to_make"),
    private_link: make("private_link"),
    fed_event: make("fed_event"),
  };
}

/** Whether nobody has used the database yet. */
export async function isUnused(queries: Queries): Promise<boolean> {
  const [row] = await queries.query<{ used: boolean }>(
    "select exists (select 1 from part) or exists (select 1 from change) or exists (select 1 from person) as used",
  );
  return row?.used !== true;
}

/**
 * Puts the tables in the place of all that is there, within the caller's transaction. Everybody is signed out. A row may
 * lack columns that came later: those get their defaults.
 */
export async function replaceTables(queries: Queries, tables: Tables): Promise<void> {
  await queries.query("lock table company_state in share row exclusive mode");
  await queries.query(
    `truncate ${[...BACKED_UP, "session", "invitation", "sign_in_attempt"].join(", ")} restart identity`,
  );
  for (const table of BACKED_UP) await insertRows(queries, table, tables[table]);
}

async function insertRows(queries: Queries, table: string, rows: readonly TableRow[]): Promise<void> {
  const [first] = rows;
  if (first === undefined) return;
  const known = await listColumns(queries, table);
  const columns = known.filter(({ name }) => name in first).map(({ name }) => `"${name}"`);
  await queries.query(
    `insert into ${table} (${columns.join(", ")}) overriding system value
     select ${columns.join(", ")} from jsonb_populate_recordset(null::${table}, $1::jsonb)`,
    [JSON.stringify(rows)],
  );
  for (const { name, isIdentity } of known) {
    if (!isIdentity) continue;
    // The next number comes after the highest one that was put back.
    await queries.query(
      `select setval(pg_get_serial_sequence('${table}', '${name}'), (select max("${name}") from ${table}))`,
    );
  }
}

async function listColumns(
  queries: Queries,
  table: string,
): Promise<readonly { readonly name: string; readonly isIdentity: boolean }[]> {
  return queries.query(
    `select column_name as name, is_identity = 'YES' as "isIdentity" from information_schema.columns
     where table_schema = current_schema() and table_name = $1 order by ordinal_position`,
    [table],
  );
}

async function keyOf(queries: Queries, table: string): Promise<string> {
  const columns = await queries.query<{ name: string }>(
    `select attname as name from pg_index
     join pg_attribute on attrelid = indrelid and attnum = any(indkey)
     where indrelid = $1::regclass and indisprimary order by array_position(indkey::smallint[], attnum)`,
    [table],
  );
  invariant(columns.length > 0, `the table ${table} has a primary key`);
  return columns.map(({ name }) => `"${name}"`).join(", ");
}
