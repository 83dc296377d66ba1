/**
 * `daylap restore FILE`: puts a backup, or a company file, into an empty database; with `--replace` in the place of what
 * is there, of which a backup is written first.
 */
import { restore } from "../services/backup.js";
import { readBackup, type BackupContents } from "../services/backup-file.js";
import { fail, type Result } from "../domain/result.js";
import { reasonOf, writeNewFile } from "../store/company-file-store.js";
import { readChunks } from "../store/disk.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { findDatabasePlace, nameDatabasePlace, onDatabase } from "./database-place.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

export const restoreCommand: Command = {
  grammar: {
    command: "restore",
    values: { data: "FOLDER" },
    switches: ["replace"],
    files: ["a backup or a company file"],
  },
  usage: "daylap restore FILE [--replace] [--data FOLDER]",
  summary:
    "put a backup or a company file into an empty database; --replace writes a backup of what is there, then replaces it",
  run: runRestore,
};

async function runRestore(words: Words, output: Output): Promise<ExitCode> {
  const path = words.files[0] ?? "";
  const place = findDatabasePlace(words);
  if (!place.ok) return refuse(output, [place.error]);
  const contents = await readContents(path);
  if (!contents.ok) return refuse(output, contents.error);
  const now = new Date();
  return onDatabase(place.value, output, async (database) => {
    const keepOld = async (lines: AsyncIterable<string>): Promise<void> => {
      const name = `daylap-before-restore-${now.toISOString().replaceAll(/[:.]/g, "-")}.json`;
      const written = await writeNewFile(name, lines);
      if (!written.ok) throw new NotKept(written.error);
      output.out(`What was there is kept in ${name}.\n`);
    };
    try {
      const restored = await restore(database, contents.value, {
        now,
        ...(words.switches.has("replace") && { keepOld }),
      });
      if (!restored.ok) return refuse(output, restored.error);
      const what = restored.value === "backup" ? "Backup" : "Company file";
      output.out(`${what} restored into ${nameDatabasePlace(place.value)}.\n`);
      return GOOD;
    } catch (error) {
      if (error instanceof NotKept) return refuse(output, [`${error.message} Nothing was restored.`]);
      throw error;
    }
  });
}

async function readContents(path: string): Promise<Result<BackupContents, readonly string[]>> {
  try {
    return await readBackup({ chunks: () => readChunks(path) });
  } catch (error) {
    if (!(error instanceof Error && "syscall" in error)) throw error;
    return fail([`The file ${path} cannot be read: ${reasonOf(error)}.`]);
  }
}

/** The backup of what is there could not be written, so it must not go. */
class NotKept extends Error {}
