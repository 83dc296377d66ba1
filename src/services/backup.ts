/**
 * The whole company in one file: a company file (`daylap-company/1`) that also holds the office, that is the record, the
 * plans, the people and their links. Any reader of company files can read it; a restore reads all of it.
 */
import { formatFault, parseCompany, parseCompanyText } from "../domain/company-file.js";
import { toSource, type Part, type Source } from "../domain/company-parts.js";
import { COMPANY_FORMAT } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import {
  BACKED_UP,
  byTable,
  isUnused,
  readTables,
  replaceTables,
  type TableRow,
  type Tables,
} from "../store/backup-store.js";
import { CHANGES, CompanyStore } from "../store/company-store.js";
import type { Database, Queries } from "../store/database.js";
import { readMigrations } from "../store/migrate.js";
import { insertChange, type ChangeEntry } from "../store/record-store.js";

export const OFFICE_FORMAT = "daylap-office/1";

/** Whose change a restore is, for the record. */
const BY_RESTORE = { personId: null, personName: "Restore" } as const;

/** The text of a backup; undefined where there is nothing to back up yet. */
export async function makeBackup(database: Database): Promise<string | undefined> {
  return database.transaction(async (queries) => {
    const { version, tables } = await readAll(queries);
    // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- rows of the table of parts are parts
    const company = toSource(tables.part as unknown as readonly Part[], COMPANY_FORMAT);
    if (company === undefined) return undefined;
    const office = { format: OFFICE_FORMAT, migration: (await readMigrations()).length, version, ...tables };
    return `${JSON.stringify({ ...company, office }, null, 1)}\n`;
  });
}

async function readAll(queries: Queries): Promise<{ readonly version: number; readonly tables: Tables }> {
  const [state] = await queries.query<{ version: number }>("select version from company_state");
  return { version: state?.version ?? 0, tables: await readTables(queries) };
}

/** What a restore did: all of a backup, or a company file alone. */
export type Restored = "backup" | "company-file";

export interface RestoreOptions {
  readonly now: Date;
  /** Where something is there already: what to do with a backup of it before it goes. Absent: refuse. */
  readonly keepOld?: (backup: string) => Promise<void>;
}

/** Puts a backup, or a company file, into the database; all of it or nothing. Fails with every sentence at once. */
export async function restore(
  database: Database,
  text: string,
  { now, keepOld }: RestoreOptions,
): Promise<Result<Restored, readonly string[]>> {
  const read = await readBackup(text);
  if (!read.ok) return read;
  if (!(await isUnused(database))) {
    if (keepOld === undefined) {
      return fail([
        "There is a company already. Restore into an empty folder or database, or say --replace: " +
          "then a backup of what is there is written first.",
      ]);
    }
    const old = await makeBackup(database);
    if (old !== undefined) await keepOld(old);
  }
  const { source, tables } = read.value;
  const entry: ChangeEntry = {
    ...BY_RESTORE,
    madeAt: now,
    kind: "restored",
    sentence: tables === undefined ? "Company file restored." : "Backup restored.",
    why: "",
  };
  if (tables === undefined) {
    await new CompanyStore(database).write(() => Promise.resolve(ok({ source, entry })));
    return ok("company-file");
  }
  await database.transaction((queries) => putBack(queries, tables, entry));
  return ok("backup");
}

/**
 * The version goes on from the higher of the two, so that no process takes what it remembers of a version for what
 * stands now.
 */
async function putBack(queries: Queries, tables: Tables, entry: ChangeEntry): Promise<void> {
  const [state] = await queries.query<{ version: number }>("select version from company_state");
  await replaceTables(queries, tables);
  const newest = Math.max(0, ...tables.change.map(({ version }) => Number(version)));
  const version = Math.max(state?.version ?? 0, newest) + 1;
  await queries.query("update company_state set version = $1", [version]);
  await insertChange(queries, { ...entry, version, before: {}, after: {} });
  await queries.query("select pg_notify($1, $2)", [CHANGES, String(version)]);
}

interface ReadBackup {
  readonly source: Source;
  /** Undefined where the file is a company file and no more. */
  readonly tables: Tables | undefined;
}

async function readBackup(text: string): Promise<Result<ReadBackup, readonly string[]>> {
  const parsed = parseCompanyText(text);
  if (!parsed.ok) return fail(parsed.error.map(formatFault));
  // Proof of the cast: a text that parses as a company is a JSON object.
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion
  const { office, ...source } = JSON.parse(text.replace(/^\uFEFF/, "")) as Source;
  if (office === undefined) return ok({ source, tables: undefined });
  const faults = await listOfficeFaults(office);
  if (faults.length > 0) return fail(faults);
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- listOfficeFaults has found every table to be a list of rows
  const rows = office as Readonly<Record<string, readonly TableRow[]>>;
  const tables = byTable((table) => rows[table] ?? []);
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- a row of the table of parts is a part, or the company in it has a fault
  const company = parseCompany(toSource(tables.part as unknown as readonly Part[], COMPANY_FORMAT));
  if (!company.ok) return fail(company.error.map((fault) => `office.part: ${formatFault(fault)}`));
  return ok({ source, tables });
}

async function listOfficeFaults(office: unknown): Promise<readonly string[]> {
  if (typeof office !== "object" || office === null) return ["office: must be an object in braces."];
  const fields = new Map<string, unknown>(Object.entries(office));
  if (fields.get("format") !== OFFICE_FORMAT) {
    return [
      `office.format: must be "${OFFICE_FORMAT}"; this file was not written by a backup of this program.`,
    ];
  }
  const known = (await readMigrations()).length;
  if (Number(fields.get("migration")) > known) {
    return [
      "office.migration: this backup is of a newer version of the program. Restore it with that version.",
    ];
  }
  return BACKED_UP.flatMap((table) => {
    const rows = fields.get(table) ?? [];
    const isRows = Array.isArray(rows) && rows.every((row) => typeof row === "object" && row !== null);
    return isRows ? [] : [`office.${table}: must be a list of rows.`];
  });
}
