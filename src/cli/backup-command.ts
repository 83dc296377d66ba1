/** `daylap backup FILE`: the whole company, with its record, plans, people and photos, in one file; also while it is served. */
import { takeBackup } from "../services/backup.js";
import { writeNewFile } from "../store/company-file-store.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { findDatabasePlace, nameDatabasePlace, onDatabase } from "./database-place.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

export const backupCommand: Command = {
  grammar: { command: "backup", values: { data: "FOLDER" }, switches: [], files: ["a file to write"] },
  usage: "daylap backup FILE [--data FOLDER]",
  summary: "write the whole company, with its record, plans, people and photos, into a new file",
  run: runBackup,
};

async function runBackup(words: Words, output: Output): Promise<ExitCode> {
  const place = findDatabasePlace(words);
  if (!place.ok) return refuse(output, [place.error]);
  return onDatabase(
    place.value,
    output,
    async (database) => {
      const path = words.files[0] ?? "";
      const written = await takeBackup(database, (lines) => writeNewFile(path, lines));
      if (written === undefined) {
        return refuse(output, [
          `There is no company in ${nameDatabasePlace(place.value)}, so no file was written.`,
        ]);
      }
      if (!written.ok) return refuse(output, [written.error]);
      output.out(`Backup written: ${path}\n`);
      return GOOD;
    },
    { mayShare: true },
  );
}
