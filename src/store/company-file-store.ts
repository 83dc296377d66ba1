/**
 * Files of a company on disk: a company file that is read, a backup that is written. What they say is the domain's
 * business.
 */
import { randomUUID } from "node:crypto";
import { basename, dirname, join } from "node:path";
import { parseCompanyText, type Fault } from "../domain/company-file.js";
import type { Company } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import { realDisk, type Disk } from "./disk.js";

/** A company file that has passed every check: as it was written, as JSON, and as the house reads it. */
export interface CompanyDocument {
  readonly text: string;
  /** The JSON of `text`, with nothing filled in, so that writing it back adds only what a person changed. */
  readonly source: Readonly<Record<string, unknown>>;
  readonly company: Company;
}

/** The file is not there or cannot be read; or it can, and its content is at fault. */
export type ReadFailure =
  | { readonly kind: "unreadable"; readonly path: string; readonly sentence: string }
  | { readonly kind: "faulty"; readonly path: string; readonly faults: readonly Fault[] };

const BYTE_ORDER_MARK = /^\uFEFF/;

/** Reads and checks a company file. */
export async function readCompanyFile(
  path: string,
  disk: Disk = realDisk,
): Promise<Result<CompanyDocument, ReadFailure>> {
  let text: string;
  try {
    text = (await disk.readText(path)).replace(BYTE_ORDER_MARK, "");
  } catch (error) {
    return fail({
      kind: "unreadable",
      path,
      sentence: `The company file ${path} cannot be read: ${reasonOf(error)}.`,
    });
  }
  const parsed = parseCompanyText(text);
  if (!parsed.ok) return fail({ kind: "faulty", path, faults: parsed.error });
  // Proof of the cast: a text that parses as a company is JSON with an object at the top.
  return ok({ text, source: JSON.parse(text) as Readonly<Record<string, unknown>>, company: parsed.value });
}

/** A company file's JSON as this house writes it: two spaces, a line feed at the end. */
export function toCompanyText(source: unknown): string {
  return `${JSON.stringify(source, null, 2)}\n`;
}

/**
 * Writes a file that is not there yet, for its owner alone to read. It is there as a whole or not at all: the text goes
 * into a file beside it first, is forced to the disk, and then takes the name. Fails with a sentence.
 */
export async function writeNewFile(
  path: string,
  text: string | AsyncIterable<string>,
  disk: Disk = realDisk,
): Promise<Result<void, string>> {
  const folder = dirname(path);
  const beside = join(folder, `.${basename(path)}.${randomUUID()}.tmp`);
  try {
    if (await disk.exists(path)) {
      return fail(`The file ${path} exists already and was left as it is. Choose another name.`);
    }
    await disk.writeNew(beside, text, 0o600);
    await disk.rename(beside, path);
  } catch (error) {
    await removeQuietly(beside, disk);
    return fail(`The file ${path} could not be written: ${reasonOf(error)}.`);
  }
  try {
    await disk.syncFolder(folder);
  } catch {
    // The file is there, and saying otherwise would be wrong. Some systems cannot force a folder at all.
  }
  return ok(undefined);
}

async function removeQuietly(path: string, disk: Disk): Promise<void> {
  try {
    await disk.remove(path);
  } catch {
    // A disk that fails twice: the first failure is the one that is told.
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  EISDIR: "it is a folder",
  ENOTDIR: "part of its path is no folder",
  EACCES: "permission is denied",
  EPERM: "permission is denied",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  EDQUOT: "the quota is used up",
  EIO: "the disk reports an error",
};

/** The reason of a failed disk call, to be put after a colon. */
export function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : undefined;
  if (code !== undefined) return REASONS[code] ?? code;
  return error instanceof Error ? error.message : String(error);
}
