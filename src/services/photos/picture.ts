/**
 * A photo as it came becomes a picture that can be kept: decoded by what it holds and not by its name, turned upright,
 * scaled, in sRGB, as a JPEG without anything else in it: no place, no time, no camera, no thumbnail of what was cut off.
 * One picture at a time, on one thread, so that the other core answers people; nothing but JPEG, PNG and WebP is decoded.
 */
import { createHash } from "node:crypto";
import type { Sharp, SharpOptions } from "sharp";
import { fail, ok, type Result } from "../../domain/result.js";
import type { FileKind } from "../../board/photo-words.js";
import { pictureKindOf, TAKEN_KINDS, type TakenKind } from "./picture-kind.js";

/** A photo that can be kept. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** JPEG, at most LONGEST_SIDE on its longer side. */
  readonly bytes: Uint8Array;
  /** The same, at most LONGEST_SMALL_SIDE. */
  readonly small: Uint8Array;
  /** SHA-256 of `bytes`, base64url. */
  readonly digest: string;
}

/** Why a file is no photo that can be kept. */
export type PictureFault =
  | { readonly kind: "empty" }
  | { readonly kind: "other-kind"; readonly is: FileKind }
  | { readonly kind: "moving" }
  | { readonly kind: "too-many-pixels"; readonly megapixels: number }
  | { readonly kind: "broken"; readonly is: string };

export const LONGEST_SIDE = 1600;
export const LONGEST_SMALL_SIDE = 320;
/** Some phones make photos of 50 million pixels; what has more is meant to hurt, or no photo of a site. */
export const MOST_PIXELS = 50_000_000;

const QUALITY = 80;
const SMALL_QUALITY = 70;
/** Far more than a photo takes on a slow machine. */
const MOST_SECONDS = 30;

/** What sharp may open: nothing of the rest that libvips reads (SVG, PDF, TIFF, …), whatever a file claims to be. */
const LOADERS = ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer", "VipsForeignLoadWebpBuffer"];

type MakeSharp = (input: Uint8Array, options?: SharpOptions) => Sharp;
let loading: Promise<MakeSharp> | undefined;

/** Loaded with the first photo: whoever has none to make needs no library for it. */
async function loadSharp(): Promise<MakeSharp> {
  const { default: sharp } = await import("sharp");
  // A photo comes once: what is remembered of it is of no use.
  sharp.cache(false);
  sharp.concurrency(1);
  sharp.block({ operation: ["VipsForeignLoad"] });
  sharp.unblock({ operation: LOADERS });
  return sharp;
}

/** Resolves when the picture before is made, so that two large ones are not in memory at once. */
let last: Promise<unknown> = Promise.resolve();

/** The picture in a file, or what is wrong with it; it waits for its turn. */
export function makePicture(bytes: Uint8Array): Promise<Result<Picture, PictureFault>> {
  const made = last.then(() => decode(bytes));
  last = made.catch(() => undefined);
  return made;
}

async function decode(bytes: Uint8Array): Promise<Result<Picture, PictureFault>> {
  if (bytes.byteLength === 0) return fail({ kind: "empty" });
  const is = pictureKindOf(bytes);
  if (!isTaken(is)) return fail({ kind: "other-kind", is });
  const sharp = await (loading ??= loadSharp());
  try {
    // Of all that follows only the header is read yet.
    const { width, height, pages = 1, format } = await sharp(bytes, { limitInputPixels: false }).metadata();
    if (format !== is) return fail({ kind: "broken", is: NAMES[is] });
    if (pages > 1) return fail({ kind: "moving" });
    if (width * height > MOST_PIXELS) {
      return fail({ kind: "too-many-pixels", megapixels: Math.round((width * height) / 1_000_000) });
    }
    const whole = await fit(
      sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: "error", sequentialRead: true }).autoOrient(),
      LONGEST_SIDE,
      QUALITY,
    );
    const small = await fit(sharp(whole.data), LONGEST_SMALL_SIDE, SMALL_QUALITY);
    return ok({
      width: whole.info.width,
      height: whole.info.height,
      bytes: whole.data,
      small: small.data,
      digest: createHash("sha256").update(whole.data).digest("base64url"),
    });
  } catch (error) {
    // What sharp throws are plain errors about the file; anything else is ours.
    if (error instanceof TypeError || error instanceof RangeError) throw error;
    return fail({ kind: "broken", is: NAMES[is] });
  }
}

/** Without being asked to keep something, sharp writes pixels and nothing else. */
function fit(
  picture: Sharp,
  longest: number,
  quality: number,
): Promise<{ data: Buffer; info: { width: number; height: number } }> {
  return picture
    .timeout({ seconds: MOST_SECONDS })
    .resize({ width: longest, height: longest, fit: "inside", withoutEnlargement: true })
    .flatten({ background: "#ffffff" })
    .toColourspace("srgb")
    .jpeg({ quality })
    .toBuffer({ resolveWithObject: true });
}

const NAMES = { jpeg: "JPEG", png: "PNG", webp: "WebP" } as const satisfies Record<TakenKind, string>;

function isTaken(kind: ReturnType<typeof pictureKindOf>): kind is TakenKind {
  return TAKEN_KINDS.some((taken) => taken === kind);
}
