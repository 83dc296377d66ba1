/**
 * The whole company in one file of lines, and back: a header with the count of rows, then each row of each table on a line
 * of its own, photos included. Written and read row by row, so that memory stays flat however much there is.
 */
import { BACKUP_FORMAT } from "../domain/backup-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import {
  BACKED_UP,
  countRows,
  emptyTables,
  isUnused,
  onSnapshot,
  readRows,
  RowRefused,
  RowWriter,
} from "../store/backup-store.js";
import { CHANGES, CompanyStore } from "../store/company-store.js";
import type { Database, Queries } from "../store/database.js";
import { readMigrations } from "../store/migrate.js";
import { insertChange, type ChangeEntry } from "../store/record-store.js";
import type { BackupContents, BackupRow } from "./backup-file.js";

/** Whose change a restore is, for the record. */
const BY_RESTORE = { personId: null, personName: "Restore" } as const;

/**
 * Hands the lines of a backup to `take`, each with its line feed, as what stands now, whatever is written meanwhile; the
 * next ones are read when it asks for them. Undefined, and nothing taken, where there is nothing to back up yet.
 */
export function takeBackup<T>(
  database: Database,
  take: (lines: AsyncIterable<string>) => Promise<T>,
): Promise<T | undefined> {
  return onSnapshot(database, async (queries) => {
    if ((await countRows(queries, "part")) === 0) return undefined;
    return take(listLines(queries));
  });
}

async function* listLines(queries: Queries): AsyncGenerator<string, void> {
  const [state] = await queries.query<{ version: number }>("select version from company_state");
  const rows: Record<string, number> = {};
  for (const table of BACKED_UP) rows[table] = await countRows(queries, table);
  const migration = (await readMigrations()).length;
  yield `${JSON.stringify({ format: BACKUP_FORMAT, migration, version: state?.version ?? 0, rows })}\n`;
  for (const table of BACKED_UP) {
    for await (const row of readRows(queries, table)) yield `{"table":"${table}","row":${row}}\n`;
  }
}

/** What a restore did: all of a backup, or a company file alone. */
export type Restored = BackupContents["kind"];

export interface RestoreOptions {
  readonly now: Date;
  /** Where something is there already: what to do with the lines of a backup of it before it goes. Absent: refuse. */
  readonly keepOld?: (lines: AsyncIterable<string>) => Promise<void>;
}

/** Puts a backup, or a company file, into the database; all of it or nothing. Fails with every sentence at once. */
export async function restore(
  database: Database,
  contents: BackupContents,
  { now, keepOld }: RestoreOptions,
): Promise<Result<Restored, readonly string[]>> {
  if (!(await isUnused(database))) {
    if (keepOld === undefined) {
      return fail([
        "There is a company already. Restore into an empty folder or database, or say --replace: " +
          "then a backup of what is there is written first.",
      ]);
    }
    await takeBackup(database, keepOld);
  }
  const entry = (sentence: string): ChangeEntry => ({
    ...BY_RESTORE,
    madeAt: now,
    kind: "restored",
    sentence,
    why: "",
  });
  if (contents.kind === "company-file") {
    const write = { source: contents.source, entry: entry("Company file restored.") };
    await new CompanyStore(database).write(() => Promise.resolve(ok(write)));
    return ok("company-file");
  }
  try {
    await database.transaction((queries) => putBack(queries, contents.rows(), entry("Backup restored.")));
  } catch (error) {
    if (error instanceof RowFault) return fail([error.message]);
    throw error;
  }
  return ok("backup");
}

/** A row that cannot be put back, as a sentence. */
class RowFault extends Error {}

/**
 * The version goes on from the higher of the two, so that no process takes what it remembers of a version for what
 * stands now.
 */
async function putBack(queries: Queries, rows: AsyncIterable<BackupRow>, entry: ChangeEntry): Promise<void> {
  const [state] = await queries.query<{ version: number }>("select version from company_state");
  await emptyTables(queries);
  const writer = new RowWriter(queries);
  for await (const { table, row, place } of rows) {
    try {
      await writer.insert(table, row);
    } catch (error) {
      if (!(error instanceof RowRefused)) throw error;
      throw new RowFault(`${place}: this row of ${table} cannot be put back (${error.message}).`);
    }
  }
  await writer.finish();
  const [newest] = await queries.query<{ version: number }>(
    "select coalesce(max(version), 0) as version from change",
  );
  const version = Math.max(state?.version ?? 0, newest?.version ?? 0) + 1;
  await queries.query("update company_state set version = $1", [version]);
  await insertChange(queries, { ...entry, version, before: {}, after: {} });
  await queries.query("select pg_notify($1, $2)", [CHANGES, String(version)]);
}
