/**
 * Rows of backups that earlier versions of the program wrote, as rows of the tables that there are now: a backup is still
 * restored, whatever has become of its tables since.
 */
import { BACKED_UP, type BackedUpTable, type TableRow } from "../store/backup-store.js";

/** A table that a backup may have rows of. Until migration 0009, `crew_link` held the links to crews' day sheets. */
export type WrittenTable = BackedUpTable | "crew_link";

/** In the order in which their rows are written. */
export const WRITTEN_TABLES = BACKED_UP.flatMap((table): readonly WrittenTable[] =>
  table === "person" ? [table, "crew_link"] : [table],
);

export interface PutBackRow {
  readonly table: BackedUpTable;
  readonly row: TableRow;
}

/** The row that is put back for a row of a backup. */
export function toRowOfToday(table: WrittenTable, row: TableRow): PutBackRow {
  if (table !== "crew_link" && table !== "private_link") return { table, row };
  // Links of two tables are in one now, and both counted from 1; nothing refers to these numbers.
  const { id: _id, crew_id, ...link } = row;
  return table === "crew_link"
    ? { table: "private_link", row: { ...link, kind: "crew", subject: crew_id } }
    : { table, row: link };
}
