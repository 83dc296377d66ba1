/**
 * The log of a server: one JSON object a line on standard error, for a machine to read. It holds what was asked by kind,
 * how it went and how long it took, and bugs; no names, accounts, addresses or houses.
 */
import { pino, stdTimeFunctions, type Logger } from "pino";

const LEVELS = ["silent", "error", "info"] as const;
export type LogLevel = (typeof LEVELS)[number];

/** A log at the level that DAYLAP_LOG names (silent, error or info), or else at the usual one. */
export function makeLog(usual: LogLevel): Logger {
  const level = LEVELS.find((known) => known === process.env["DAYLAP_LOG"]) ?? usual;
  const serializers = { err: toFacts };
  return pino({ level, base: null, timestamp: stdTimeFunctions.isoTime, serializers }, process.stderr);
}

/** Of an error what tells where the bug is; a driver's errors also quote the row that was at fault. */
function toFacts(error: unknown): object {
  if (!(error instanceof Error)) return { message: String(error) };
  const { name, message, stack, cause } = error;
  return {
    name,
    message,
    stack,
    ...("code" in error && { code: error.code }),
    ...(cause !== undefined && { cause: toFacts(cause) }),
  };
}
