/**
 * Why PostgreSQL did not start, read from what it wrote, as a sentence for the person who started the app.
 * PostgreSQL is told to speak English, so its words can be relied on.
 */
import { PRODUCT_NAME } from "../../domain/product.js";

/**
 * `port-taken`: another program was quicker, another port will do. `busy`: the server before is not gone yet.
 * `final`: it will not get better by itself.
 */
export interface ServerFailure {
  readonly kind: "port-taken" | "busy" | "final";
  readonly sentence: string;
}

const KNOWN: readonly (readonly [RegExp, ServerFailure["kind"], (folder: string) => string])[] = [
  [
    /Address already in use|could not bind|could not create any TCP\/IP sockets/,
    "port-taken",
    () => "Another program keeps taking the network ports that PostgreSQL is to listen on. Start again.",
  ],
  [
    /lock file "postmaster\.pid" (already exists|is empty)|pre-existing shared memory block/,
    "busy",
    (folder) =>
      `A PostgreSQL server still uses the database in ${folder} and does not end. End it, or restart this computer.`,
  ],
  [
    /No space left on device|wrote only \d+ of \d+ bytes|Disk quota exceeded|There is not enough space on the disk/,
    "final",
    (folder) =>
      `The disk that holds ${folder} is full, so the database cannot start. Nothing was changed: free some space there, and start again.`,
  ],
  [
    /Read-only file system/,
    "final",
    (folder) =>
      `The disk that holds ${folder} is read-only, so the database cannot start. Make it writable, or choose another folder.`,
  ],
  [
    /has wrong ownership|Permission denied|Operation not permitted|has invalid permissions/,
    "final",
    (folder) =>
      `The database in ${folder} may not be opened by this user. Start ${PRODUCT_NAME} as the user that owns that folder, or choose another one.`,
  ],
];

/** What the programs printed, as one of the known failures, or else with the words that they printed. */
export function explainServerFailure(output: string, folder: string): ServerFailure {
  const found = KNOWN.find(([words]) => words.test(output));
  if (found !== undefined) return { kind: found[1], sentence: found[2](folder) };
  const telling = output.split("\n").filter((line) => /FATAL|PANIC|ERROR|error:|cannot be run/.test(line));
  const words = (telling.length > 0 ? telling : output.split("\n")).slice(-3).join(" ");
  return {
    kind: "final",
    sentence: `The database in ${folder} could not be started. PostgreSQL says: ${words || "nothing"}`,
  };
}
