/** Backups of the tests: small ones, as texts, and what a database holds, table by table. */
import { toSource, type Part } from "../../src/domain/company-parts.js";
import { COMPANY_FORMAT } from "../../src/domain/company-schema.js";
import type { Result } from "../../src/domain/result.js";
import { restore, takeBackup, type Restored } from "../../src/services/backup.js";
import { readBackup, type RestoredFile } from "../../src/services/backup-file.js";
import {
  BACKED_UP,
  onSnapshot,
  readRows,
  type BackedUpTable,
  type TableRow,
} from "../../src/store/backup-store.js";
import type { Database } from "../../src/store/database.js";

/** A whole backup; undefined where there is nothing to back up. */
export function backupText(database: Database): Promise<string | undefined> {
  return takeBackup(database, joinLines);
}

/** What the first version of the program wrote: a company file with the office in it. */
export async function oldBackupText(database: Database): Promise<string> {
  const tables = toEarlierTables(await readTables(database));
  // Proof of the cast: rows of the table of parts are parts.
  const company = toSource(tables["part"] as unknown as readonly Part[], COMPANY_FORMAT);
  const office = { format: "daylap-office/1", migration: 6, version: tables["change"]?.length, ...tables };
  return `${JSON.stringify({ ...company, office }, null, 1)}\n`;
}

/** What a later one wrote: lines already, and crews' links still in a table of their own. */
export async function earlierBackupText(database: Database): Promise<string> {
  const tables = Object.entries(toEarlierTables(await readTables(database)));
  const rows = Object.fromEntries(tables.map(([table, { length }]) => [table, length]));
  const header = JSON.stringify({ format: "daylap-backup/1", migration: 8, version: 1, rows });
  const lines = tables.flatMap(([table, all]) => all.map((row) => JSON.stringify({ table, row })));
  return `${[header, ...lines].join("\n")}\n`;
}

/** Before migration 0009: both tables of links numbered from 1. */
function toEarlierTables({
  private_link: links,
  ...tables
}: Readonly<Record<BackedUpTable, readonly TableRow[]>>): Readonly<Record<string, readonly TableRow[]>> {
  const crewLinks = links
    .filter(({ kind }) => kind === "crew")
    .map(({ kind: _kind, subject, ...link }, index) => ({ ...link, id: index + 1, crew_id: subject }));
  const others = links
    .filter(({ kind }) => kind !== "crew")
    .map(({ expires_at: _none, ...link }, index) => ({ ...link, id: index + 1 }));
  const { part, change, plan, person, people_change, call_to_make, ...later } = tables;
  const before = { part, change, plan, person, crew_link: crewLinks, people_change, call_to_make };
  return { ...before, private_link: others, ...later };
}

/** A file in memory, read a few bytes at a time, so that lines and letters are cut anywhere. */
export function fileOf(text: string): RestoredFile {
  const bytes = new TextEncoder().encode(text);
  return {
    // oxlint-disable-next-line typescript/require-await -- what a file is read by is asynchronous
    async *chunks() {
      for (let at = 0; at < bytes.length; at += 1_021) yield bytes.subarray(at, at + 1_021);
    },
  };
}

/** Reads a text as a file and restores it. */
export async function restoreText(
  database: Database,
  text: string,
  { now, keepOld }: { readonly now: Date; readonly keepOld?: (backup: string) => Promise<void> },
): Promise<Result<Restored, readonly string[]>> {
  const contents = await readBackup(fileOf(text));
  if (!contents.ok) return contents;
  return restore(database, contents.value, {
    now,
    ...(keepOld && { keepOld: async (lines) => keepOld(await joinLines(lines)) }),
  });
}

/** Every row of every table that is backed up. */
export function readTables(
  database: Database,
): Promise<Readonly<Record<BackedUpTable, readonly TableRow[]>>> {
  return onSnapshot(database, async (queries) => {
    const tables = new Map<BackedUpTable, TableRow[]>();
    for (const table of BACKED_UP) {
      const rows: TableRow[] = [];
      // Proof of the cast: the database makes each row an object.
      for await (const row of readRows(queries, table)) rows.push(JSON.parse(row) as TableRow);
      tables.set(table, rows);
    }
    // Proof of the cast: each of the tables has been put in.
    return Object.fromEntries(tables) as unknown as Record<BackedUpTable, readonly TableRow[]>;
  });
}

async function joinLines(lines: AsyncIterable<string>): Promise<string> {
  const texts: string[] = [];
  for await (const line of lines) texts.push(line);
  return texts.join("");
}
