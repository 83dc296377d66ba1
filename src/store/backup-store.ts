/**
 * All tables of the database as rows of JSON, and back, a few rows at a time: however much there is, little of it is in
 * memory. A backup holds every table but those that are worth nothing elsewhere: open sessions, one-time links, counted
 * sign-in attempts, and the list of migrations, which the database has itself.
 */
import { DatabaseError } from "pg";
import { invariant } from "../domain/result.js";
import type { Database, Queries } from "./database.js";

/** In an order in which each table comes after those that it refers to. */
export const BACKED_UP = [
  "part",
  "change",
  "plan",
  "person",
  "people_change",
  "call_to_make",
  "private_link",
  "fed_event",
  "site_report",
  "photo",
] as const;
export const LEFT_OUT = ["company_state", "migration", "session", "invitation", "sign_in_attempt"] as const;
export type BackedUpTable = (typeof BACKED_UP)[number];

export type TableRow = Readonly<Record<string, unknown>>;

/** Characters of rows that are asked for at once, as far as their length can be known beforehand. */
const FETCHED_AT_ONCE = 1024 * 1024;
const MOST_ROWS_AT_ONCE = 32;

/**
 * Runs `work` once, on what stands at this moment whatever others write meanwhile, for as long as it takes. It may only
 * read.
 */
export async function onSnapshot<T>(database: Database, work: (queries: Queries) => Promise<T>): Promise<T> {
  const connection = await database.connect();
  try {
    // Whoever takes the rows may be slow, a disk for instance.
    await connection.query("set idle_in_transaction_session_timeout = 0");
    await connection.query("begin isolation level repeatable read read only");
    return await work(connection);
  } finally {
    // The transaction goes with its connection.
    await connection.release();
  }
}

/** How many rows a table has. */
export async function countRows(queries: Queries, table: BackedUpTable): Promise<number> {
  const [row] = await queries.query<{ count: number }>(`select count(*) as count from ${table}`);
  return row?.count ?? 0;
}

/** Every row of a table by its key, each as the text of a JSON object; within a transaction, one table at a time. */
export async function* readRows(queries: Queries, table: BackedUpTable): AsyncGenerator<string, void> {
  // Sorted first, so that only what is fetched becomes text.
  await queries.query(
    `declare backed_up no scroll cursor for
     select to_jsonb(it)::text as row from (select * from ${table} order by ${await keyOf(queries, table)}) it`,
  );
  let longest = 0;
  for (;;) {
    const fit = longest === 0 ? 1 : Math.floor(FETCHED_AT_ONCE / longest);
    const count = Math.min(MOST_ROWS_AT_ONCE, Math.max(1, fit));
    const fetched = await queries.query<{ row: string }>(`fetch ${count} from backed_up`);
    if (fetched.length === 0) break;
    longest = Math.max(longest, ...fetched.map(({ row }) => row.length));
    for (const { row } of fetched) yield row;
  }
  await queries.query("close backed_up");
}

/** Whether nobody has used the database yet. */
export async function isUnused(queries: Queries): Promise<boolean> {
  const [row] = await queries.query<{ used: boolean }>(
    "select exists (select 1 from part) or exists (select 1 from change) or exists (select 1 from person) as used",
  );
  return row?.used !== true;
}

/** Takes away all that is there, within the caller's transaction. Everybody is signed out. */
export async function emptyTables(queries: Queries): Promise<void> {
  await queries.query("lock table company_state in share row exclusive mode");
  await queries.query(
    `truncate ${[...BACKED_UP, "session", "invitation", "sign_in_attempt"].join(", ")} restart identity`,
  );
}

/** A row that the database does not take: something is missing in it, or of another kind. The message is the database's. */
export class RowRefused extends Error {}

/** SQLSTATE of data that is wrong or breaks a rule of its table (PostgreSQL manual, appendix A). */
const WRONG_DATA = /^(22|23)...$/;

/** Puts rows back, one after another, within the caller's transaction. */
export class RowWriter {
  readonly #queries: Queries;
  readonly #columns = new Map<BackedUpTable, readonly Column[]>();

  constructor(queries: Queries) {
    this.#queries = queries;
  }

  /** A row may lack columns that came later: those get their defaults. Throws RowRefused. */
  async insert(table: BackedUpTable, row: TableRow): Promise<void> {
    const known = await this.#columnsOf(table);
    const columns = known.filter(({ name }) => name in row).map(({ name }) => `"${name}"`);
    if (columns.length === 0) throw new RowRefused("it has none of the columns of its table");
    try {
      await this.#queries.query(
        `insert into ${table} (${columns.join(", ")}) overriding system value
         select ${columns.join(", ")} from jsonb_populate_record(null::${table}, $1::jsonb)`,
        [JSON.stringify(row)],
      );
    } catch (error) {
      if (error instanceof DatabaseError && WRONG_DATA.test(error.code ?? "")) {
        throw new RowRefused(error.message, { cause: error });
      }
      throw error;
    }
  }

  /** To be called behind the last row: from here on, numbers come after the highest one that was put back. */
  async finish(): Promise<void> {
    for (const [table, columns] of this.#columns) {
      for (const { name } of columns.filter(({ isIdentity }) => isIdentity)) {
        await this.#queries.query(
          `select setval(pg_get_serial_sequence('${table}', '${name}'), (select max("${name}") from ${table}))`,
        );
      }
    }
  }

  async #columnsOf(table: BackedUpTable): Promise<readonly Column[]> {
    const known = this.#columns.get(table) ?? (await listColumns(this.#queries, table));
    this.#columns.set(table, known);
    return known;
  }
}

interface Column {
  readonly name: string;
  readonly isIdentity: boolean;
}

async function listColumns(queries: Queries, table: string): Promise<readonly Column[]> {
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
