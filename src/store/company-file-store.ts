/**
 * The company file on disk: read as a whole, replaced as a whole.
 * A reader sees the old text or the new one, never half of either: the new text goes into a file beside it, is forced
 * to the disk, and takes the old one's name. What the file says is the domain's business.
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

export interface WriteFailure {
  readonly kind: "not-written";
  readonly path: string;
  readonly sentence: string;
}

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
 * Replaces the text of a file that exists. On failure the file is as it was and nothing is left beside it.
 * A link stays a link, and the permissions stay.
 */
export async function replaceCompanyFile(
  path: string,
  text: string,
  disk: Disk = realDisk,
): Promise<Result<void, WriteFailure>> {
  let beside: string | undefined;
  let folder: string;
  try {
    const real = await disk.find(path);
    folder = dirname(real.path);
    beside = join(folder, `.${basename(real.path)}.${randomUUID()}.tmp`);
    await disk.writeNew(beside, text, real.mode);
    await disk.rename(beside, real.path);
  } catch (error) {
    if (beside !== undefined) await removeQuietly(beside, disk);
    const sentence = `The company file ${path} could not be written: ${reasonOf(error)}. Nothing has been changed.`;
    return fail({ kind: "not-written", path, sentence });
  }
  try {
    await disk.syncFolder(folder);
  } catch {
    // The file already holds the new text, and saying otherwise would be wrong. Some systems cannot force a folder at all.
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
