/**
 * What a database itself cannot do, as something that people can be told: it cannot be reached, its disk is full, it is
 * being shut down. Thrown, for any query may meet it; everything else that a query throws is a bug and stays as it is.
 */
import { DatabaseError } from "pg";

export type DatabaseFailureKind = "unreachable" | "disk-full" | "read-only";

const SENTENCES = {
  unreachable: "The database cannot be reached at the moment. Nothing was changed; try again in a minute.",
  "disk-full":
    "The disk of the database is full. Nothing was changed; free some space there, and then try again.",
  "read-only":
    "The database takes no changes at the moment. Nothing was changed; ask whoever looks after the server.",
} as const satisfies Record<DatabaseFailureKind, string>;

export class DatabaseFailure extends Error {
  override readonly name = "DatabaseFailure";
  readonly kind: DatabaseFailureKind;

  /** Its message is a sentence for people; `cause` is what the driver said, for the log. */
  constructor(kind: DatabaseFailureKind, cause: unknown) {
    super(SENTENCES[kind], { cause });
    this.kind = kind;
  }
}

/** SQLSTATE by its class or code (PostgreSQL manual, appendix A). */
const KIND_OF_STATE: readonly (readonly [RegExp, DatabaseFailureKind])[] = [
  [/^53100$/, "disk-full"],
  [/^25006$/, "read-only"],
  // Connection exceptions, too many connections, shutting down, starting up, sign-in refused, no such database.
  [/^(08...|53300|57P0[1-5]|28...|3D000)$/, "unreachable"],
];

/** Codes of the operating system for a server that is not there or went away. */
const UNREACHABLE_CODES: ReadonlySet<string> = new Set([
  "ECONNREFUSED",
  "ECONNRESET",
  "ENOTFOUND",
  "EAI_AGAIN",
  "EPIPE",
  "ETIMEDOUT",
  "EHOSTUNREACH",
  "ENETUNREACH",
  "ENOENT",
  "EACCES",
]);

/** Sentences of the driver that come without a code. */
const UNREACHABLE_WORDS =
  /^(Connection terminated|Client has encountered a connection error|timeout expired|timeout exceeded when trying to connect|Client was closed|Cannot use a pool after calling end)/;

/** The failure behind an error of the driver; any other error as it is. */
export function toDatabaseFailure(error: unknown): unknown {
  if (error instanceof DatabaseFailure || !(error instanceof Error)) return error;
  if (error instanceof DatabaseError) {
    const kind = KIND_OF_STATE.find(([state]) => state.test(error.code ?? ""))?.[1];
    return kind === undefined ? error : new DatabaseFailure(kind, error);
  }
  const code = "code" in error ? String(error.code) : "";
  const isUnreachable = UNREACHABLE_CODES.has(code) || UNREACHABLE_WORDS.test(error.message);
  return isUnreachable || error instanceof AggregateError ? new DatabaseFailure("unreachable", error) : error;
}
