/**
 * `daylap owner-link`: a one-time link with which an owner sets a new password, for an only owner who has forgotten hers.
 * Whoever may run commands on the database may do so; it is on record.
 */
import { openPeople } from "../services/people.js";
import { paths } from "../web/paths.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { findDatabasePlace, nameDatabasePlace, onDatabase } from "./database-place.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

export const ownerLinkCommand: Command = {
  grammar: { command: "owner-link", values: { data: "FOLDER" }, switches: [], files: ["an owner's account"] },
  usage: "daylap owner-link ACCOUNT [--data FOLDER]",
  summary: "print a one-time path with which that owner sets a new password; also while the app is served",
  run: runOwnerLink,
};

async function runOwnerLink(words: Words, output: Output): Promise<ExitCode> {
  const place = findDatabasePlace(words);
  if (!place.ok) return refuse(output, [place.error]);
  const account = (words.files[0] ?? "").toLowerCase();
  return onDatabase(
    place.value,
    output,
    async (database) => {
      const people = openPeople(database);
      const owners = (await people.list()).filter(({ role }) => role === "owner");
      const owner = owners.find((person) => person.account.toLowerCase() === account);
      if (owner === undefined) {
        const known = owners.map((person) => person.account).join(", ");
        return refuse(output, [
          owners.length === 0
            ? `There is no owner yet in ${nameDatabasePlace(place.value)}: "daylap serve" prints the link for the first one.`
            : `No owner has the account "${words.files[0] ?? ""}". The owners' accounts are: ${known}.`,
        ]);
      }
      const by = { personId: null, personName: "Command line" };
      const seen = { personId: owner.id, version: owner.version, why: "" };
      const made = await people.makeResetLink(seen, by);
      if (!made.ok) return refuse(output, [made.error.sentence]);
      output.out(
        `Open this path at the app's address; it works once, for a day:\n  ${paths.invitation(made.value.token)}\n`,
      );
      return GOOD;
    },
    { mayShare: true },
  );
}
