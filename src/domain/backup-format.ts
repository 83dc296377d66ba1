/**
 * How a backup begins: one line of JSON with the format's name first, then a row a line. Here, because whoever expects a
 * company file and gets a backup should say so.
 */

export const BACKUP_FORMAT = "daylap-backup/1";

const BEGINNING = /^\uFEFF?\{"format":"daylap-backup\//;
/** No longer is the beginning by which a backup is known. */
export const BEGINNING_LENGTH = 64;

/** Whether a text, of which the beginning is enough, is a backup in lines. */
export function isBackupText(text: string): boolean {
  return BEGINNING.test(text.slice(0, BEGINNING_LENGTH));
}
