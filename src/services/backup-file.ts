/**
 * A file that is to be restored, read and checked before anything is touched: a backup in lines (`daylap-backup/1`), which
 * is never in memory as a whole; a backup of an earlier version of the program, which is a company file with the office
 * in it (`daylap-office/1`); or a company file alone.
 */
import { BACKUP_FORMAT, BEGINNING_LENGTH, isBackupText } from "../domain/backup-format.js";
import { formatFault, parseCompany, parseCompanyText } from "../domain/company-file.js";
import { toSource, type Part, type Source } from "../domain/company-parts.js";
import { COMPANY_FORMAT } from "../domain/company-schema.js";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import type { TableRow } from "../store/backup-store.js";
import { readMigrations } from "../store/migrate.js";
import { toRowOfToday, WRITTEN_TABLES, type PutBackRow, type WrittenTable } from "./earlier-backup.js";
import { readLines, UnreadableText } from "./text-lines.js";

/** A file that can be read from its beginning as often as it takes. */
export interface RestoredFile {
  chunks(): AsyncIterable<Uint8Array>;
}

export interface BackupRow extends PutBackRow {
  /** Where it stands in the file: "Line 17", "office.plan[3]". */
  readonly place: string;
}

/** What of a file would be restored; it has no fault that can be seen without a database. */
export type BackupContents =
  | { readonly kind: "company-file"; readonly source: Source }
  | {
      readonly kind: "backup";
      /** In an order in which they can be written; from the first one each time. */
      readonly rows: () => AsyncIterable<BackupRow>;
    };

const OFFICE_FORMAT = "daylap-office/1";
const NEWER = "this backup is of a newer version of the program. Restore it with that version.";
/** Faults that are told; a file with more of them is another file. */
const MOST_FAULTS = 20;

/** What is in the file, or every fault of it. What the disk throws comes out here. */
export async function readBackup(file: RestoredFile): Promise<Result<BackupContents, readonly string[]>> {
  try {
    const beginning = await readText(file, BEGINNING_LENGTH);
    if (!isBackupText(beginning)) return await readWhole(await readText(file));
    const faults = await checkLines(file);
    if (faults.length === 0) return ok({ kind: "backup", rows: () => readRows(file) });
    const more = faults.length - MOST_FAULTS;
    return fail(more > 0 ? [...faults.slice(0, MOST_FAULTS), `And ${more} more faults.`] : faults);
  } catch (error) {
    if (error instanceof UnreadableText) return fail([error.message]);
    throw error;
  }
}

/** The text of a file, or as much of it as has at least that many characters. */
async function readText(file: RestoredFile, most = Infinity): Promise<string> {
  const decoder = new TextDecoder();
  const texts: string[] = [];
  let length = 0;
  for await (const chunk of file.chunks()) {
    const text = decoder.decode(chunk, { stream: true });
    texts.push(text);
    length += text.length;
    if (length >= most) break;
  }
  return texts.join("");
}

async function checkLines(file: RestoredFile): Promise<readonly string[]> {
  const faults: string[] = [];
  const parts: TableRow[] = [];
  const counts = new Map<string, number>();
  let header: ReadonlyMap<string, unknown> | undefined;
  let number = 0;
  let reached = 0;
  for await (const line of readLines(file.chunks())) {
    number += 1;
    if (header === undefined) {
      header = toObject(line);
      const wrong = await findHeaderFault(header);
      if (wrong !== undefined) return [`Line 1: ${wrong}`];
      continue;
    }
    const read = toTableRow(line);
    if (read === undefined) {
      faults.push(
        `Line ${number}: must be a JSON object with "table", the name of one, and "row", an object.`,
      );
      continue;
    }
    const position = WRITTEN_TABLES.indexOf(read.table);
    if (position < reached)
      faults.push(`Line ${number}: rows of ${read.table} must come before those of later tables.`);
    reached = Math.max(reached, position);
    counts.set(read.table, (counts.get(read.table) ?? 0) + 1);
    if (read.table === "part") parts.push(read.row);
  }
  // Faults of lines make all that is counted wrong as well.
  if (faults.length > 0) return faults;
  const missing = listMissing(header?.get("rows"), counts);
  return missing.length > 0 ? missing : listPartFaults(parts, "part");
}

async function findHeaderFault(
  header: ReadonlyMap<string, unknown> | undefined,
): Promise<string | undefined> {
  if (header?.get("format") !== BACKUP_FORMAT) {
    return `format: must be "${BACKUP_FORMAT}"; this file was not written by a backup of this version of the program.`;
  }
  const migration = header.get("migration");
  if (typeof migration !== "number") return "migration: must be a number.";
  if (migration > (await readMigrations()).length) return `migration: ${NEWER}`;
  return undefined;
}

/** Where the file has other rows than it says: it has been cut off, or put together by hand. */
function listMissing(said: unknown, counts: ReadonlyMap<string, number>): readonly string[] {
  const expected = new Map<string, unknown>(Object.entries(isRecord(said) ? said : {}));
  return WRITTEN_TABLES.flatMap((table) => {
    const [has, wants] = [counts.get(table) ?? 0, expected.get(table) ?? 0];
    if (has === wants) return [];
    return [
      `The file says that there are ${JSON.stringify(wants)} rows of ${table}, and has ${has}. It is not whole.`,
    ];
  });
}

async function* readRows(file: RestoredFile): AsyncGenerator<BackupRow, void> {
  let number = 0;
  for await (const line of readLines(file.chunks())) {
    number += 1;
    if (number === 1) continue;
    const read = toTableRow(line);
    invariant(read !== undefined, "a file that was checked has not changed since");
    yield { ...toRowOfToday(read.table, read.row), place: `Line ${number}` };
  }
}

function toTableRow(line: string): { readonly table: WrittenTable; readonly row: TableRow } | undefined {
  const read = toObject(line);
  const table = WRITTEN_TABLES.find((known) => known === read?.get("table"));
  const row = read?.get("row");
  return table !== undefined && isRecord(row) ? { table, row } : undefined;
}

function toObject(line: string): ReadonlyMap<string, unknown> | undefined {
  try {
    const value: unknown = JSON.parse(line.replace(/^\uFEFF/, ""));
    return isRecord(value) ? new Map(Object.entries(value)) : undefined;
  } catch {
    return undefined;
  }
}

function isRecord(value: unknown): value is TableRow {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

async function readWhole(text: string): Promise<Result<BackupContents, readonly string[]>> {
  const parsed = parseCompanyText(text);
  if (!parsed.ok) return fail(parsed.error.map(formatFault));
  // Proof of the cast: a text that parses as a company is a JSON object.
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion
  const { office, ...source } = JSON.parse(text.replace(/^\uFEFF/, "")) as Source;
  if (office === undefined) return ok({ kind: "company-file", source });
  const faults = await listOfficeFaults(office);
  if (faults.length > 0) return fail(faults);
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- listOfficeFaults has found every table to be a list of rows
  const tables = office as Readonly<Record<string, readonly TableRow[]>>;
  const wrong = listPartFaults(tables["part"] ?? [], "office.part");
  return wrong.length > 0 ? fail(wrong) : ok({ kind: "backup", rows: () => readOffice(tables) });
}

async function listOfficeFaults(office: unknown): Promise<readonly string[]> {
  if (!isRecord(office)) return ["office: must be an object in braces."];
  const fields = new Map<string, unknown>(Object.entries(office));
  if (fields.get("format") !== OFFICE_FORMAT) {
    return [
      `office.format: must be "${OFFICE_FORMAT}"; this file was not written by a backup of this program.`,
    ];
  }
  if (Number(fields.get("migration")) > (await readMigrations()).length)
    return [`office.migration: ${NEWER}`];
  return WRITTEN_TABLES.flatMap((table) => {
    const rows = fields.get(table) ?? [];
    return Array.isArray(rows) && rows.every(isRecord) ? [] : [`office.${table}: must be a list of rows.`];
  });
}

// oxlint-disable-next-line typescript/require-await -- what is read from a file and what is here already are walked alike
async function* readOffice(
  tables: Readonly<Record<string, readonly TableRow[]>>,
): AsyncGenerator<BackupRow, void> {
  for (const table of WRITTEN_TABLES) {
    for (const [index, row] of (tables[table] ?? []).entries()) {
      yield { ...toRowOfToday(table, row), place: `office.${table}[${index}]` };
    }
  }
}

/** The faults of the company that the parts make. */
function listPartFaults(rows: readonly TableRow[], place: string): readonly string[] {
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- a row of the table of parts is a part, or the company in it has a fault
  const company = parseCompany(toSource(rows as unknown as readonly Part[], COMPANY_FORMAT));
  return company.ok ? [] : company.error.map((fault) => `${place}: ${formatFault(fault)}`);
}
