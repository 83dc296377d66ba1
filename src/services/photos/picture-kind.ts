/**
 * What a file is by its first bytes, whatever it is called. Three kinds are taken; the others are known so that people can
 * be told what they sent.
 */
import type { FileKind } from "../../board/photo-words.js";

export const TAKEN_KINDS = ["jpeg", "png", "webp"] as const;
export type TakenKind = (typeof TAKEN_KINDS)[number];

/** Enough of a file to know it by. */
const LOOKED_AT = 1024;

/** What the bytes are; of an empty file "unknown". */
export function pictureKindOf(bytes: Uint8Array): TakenKind | FileKind {
  const start = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, LOOKED_AT));
  const latin = start.toString("latin1");
  return (
    BEGINNINGS.find(([beginning]) => latin.startsWith(beginning))?.[1] ??
    (latin.startsWith("RIFF") && latin.slice(8, 12) === "WEBP" ? "webp" : undefined) ??
    (latin.slice(4, 8) === "ftyp" ? kindOfBrand(latin) : undefined) ??
    kindOfText(start)
  );
}

const BEGINNINGS: readonly (readonly [string, TakenKind | FileKind])[] = [
  ["\xff\xd8\xff", "jpeg"],
  ["\x89PNG\r\n\x1a\n", "png"],
  ["GIF8", "gif"],
  ["%PDF-", "pdf"],
  ["PK\x03\x04", "zip"],
  ["II*\0", "tiff"],
  ["MM\0*", "tiff"],
  ["BM", "bmp"],
  ["\x1a\x45\xdf\xa3", "film"],
];

/** ISO base media files (ISO/IEC 14496-12) name their brand, and those that they go with, in the first box. */
function kindOfBrand(latin: string): FileKind {
  const brand = latin.slice(8, 12);
  if (/^(?:hei[cmsx]|he[iv][cmsx]|hev[cmsx])/.test(brand)) return "heic";
  if (/^avi[fs]/.test(brand)) return "avif";
  // The general brand of still pictures: what is inside stands among those that it goes with.
  if (brand === "mif1" || brand === "msf1") return latin.slice(16, 64).includes("avif") ? "avif" : "heic";
  return "film";
}

function kindOfText(start: Buffer): FileKind {
  // A letter that is cut off at the end of what is looked at is no fault.
  const text = start
    .toString("utf8")
    .replace(/^\uFEFF/, "")
    .replace(/\uFFFD{1,3}$/, "");
  // oxlint-disable-next-line no-control-regex -- control characters are what tells bytes from text
  if (text === "" || /[\0-\x08\x0e-\x1f\uFFFD]/.test(text)) return "unknown";
  const opening = text.trimStart().toLowerCase();
  if (/<svg[\s>]/.test(opening) && opening.startsWith("<")) return "svg";
  if (/^<(?:!doctype html|html|head|body|script)/.test(opening)) return "html";
  return "text";
}
