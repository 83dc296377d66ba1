/**
 * A file that a page carries in a hidden field from one step to the next: packed, with a hash of what was packed, so that
 * what comes back is what was shown, or nothing.
 */
import { createHash } from "node:crypto";
import { promisify } from "node:util";
import { gunzip, gzip } from "node:zlib";
import { MOST_UPLOAD_BYTES } from "./company-upload.js";

const pack = promisify(gzip);
const unpack = promisify(gunzip);

/** Letters, digits, dashes, underscores and one dot. */
export async function packFile(text: string): Promise<string> {
  return `${hashOf(text)}.${(await pack(text)).toString("base64url")}`;
}

/** The text; undefined for anything that `packFile` did not make, or made of too long a text. */
export async function unpackFile(packed: string): Promise<string | undefined> {
  const dot = packed.indexOf(".");
  try {
    const bytes = Buffer.from(packed.slice(dot + 1), "base64url");
    const text = (await unpack(bytes, { maxOutputLength: 2 * MOST_UPLOAD_BYTES })).toString("utf8");
    return hashOf(text) === packed.slice(0, dot) ? text : undefined;
  } catch {
    return undefined;
  }
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("base64url");
}
