/**
 * The files that pages load, as they go over the wire: without the comments, which are for whoever reads them here, and
 * packed once as small as they get. All have one stamp, made of what is in them, which is part of their address: what a
 * browser has under an address never changes, and no page runs with the script of another version.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { constants } from "node:zlib";
import { PackedText } from "./packing.js";

/** views lies beside src and beside dist. */
export const VIEWS_FOLDER = fileURLToPath(new URL("../../views", import.meta.url));

const TYPES: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".svg": "image/svg+xml",
};

export interface ShippedFile {
  readonly type: string;
  /** Of its text, in letters that an HTTP header takes. */
  readonly digest: string;
  readonly packed: PackedText;
}

interface Shipped {
  readonly stamp: string;
  /** By name: "base.css", and "idb/index.js" out of its package. */
  readonly files: ReadonlyMap<string, ShippedFile>;
}

let shipped: Shipped | undefined;

/** In the addresses of all files; another one where any of them is another. */
export function fileStamp(): string {
  return (shipped ??= readFiles()).stamp;
}

export function findFile(name: string): ShippedFile | undefined {
  return (shipped ??= readFiles()).files.get(name);
}

function readFiles(): Shipped {
  const folder = join(VIEWS_FOLDER, "static");
  const own = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isFile());
  const idb = join(dirname(createRequire(import.meta.url).resolve("idb")), "index.js");
  const all = [...own.map(({ name }) => [name, join(folder, name)] as const), ["idb/index.js", idb] as const];
  const hash = createHash("sha256");
  const files = new Map<string, ShippedFile>();
  for (const [name, path] of all.toSorted(([a], [b]) => (a < b ? -1 : 1))) {
    const type = TYPES[extname(name)];
    if (type === undefined) continue;
    const text = withoutComments(readFileSync(path, "utf8"), extname(name));
    hash.update(`${name}\n${text}\n`);
    files.set(name, makeFile(type, text));
  }
  return { stamp: hash.digest("base64url").slice(0, 8), files };
}

function makeFile(type: string, text: string): ShippedFile {
  const digest = createHash("sha256").update(text).digest("base64url").slice(0, 12);
  return { type, digest, packed: new PackedText(text, constants.BROTLI_MAX_QUALITY) };
}

/** Of those alone that have their lines to themselves: what else looks like a comment may be part of a text. */
export function withoutComments(text: string, extension: string): string {
  const withoutBlocks = text.replaceAll(/^[ \t]*\/\*(?:(?!\*\/)[^])*\*\/[ \t]*\n/gm, "");
  return extension === ".js" ? withoutBlocks.replaceAll(/^[ \t]*\/\/.*\n/gm, "") : withoutBlocks;
}
