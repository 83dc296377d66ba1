/** What becomes of a photo: what is taken and what is not, upright, small enough, and with nothing in it but the picture. */
import { gps, parse } from "exifr";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { PHOTO_WORDS } from "../../../src/board/photo-words.js";
import { pictureKindOf } from "../../../src/services/photos/picture-kind.js";
import {
  LONGEST_SIDE,
  LONGEST_SMALL_SIDE,
  makePicture,
  MOST_PIXELS,
  type Picture,
} from "../../../src/services/photos/picture.js";
import { aBomb, aNoisyPhoto, aPhotoWithPlace, GPS } from "../../support/photos.js";

async function pictureOf(bytes: Uint8Array): Promise<Picture> {
  const made = await makePicture(bytes);
  if (!made.ok) throw new Error(`no picture: ${JSON.stringify(made.error)}`);
  return made.value;
}

/** The colour at a place, each channel from 0 to 255; places from 0 to 1. */
async function colourAt(jpeg: Uint8Array, x: number, y: number): Promise<readonly number[]> {
  const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
  const column = Math.min(info.width - 1, Math.floor(x * info.width));
  const row = Math.min(info.height - 1, Math.floor(y * info.height));
  const at = (row * info.width + column) * info.channels;
  return [...data.subarray(at, at + 3)];
}

/** The names of the segments of a JPEG file (ITU-T T.81, annex B) before its picture, read byte by byte. */
function listSegments(jpeg: Uint8Array): readonly string[] {
  const names: string[] = [];
  let at = 2;
  while (jpeg[at] === 0xff && jpeg[at + 1] !== 0xda) {
    names.push((jpeg[at + 1] ?? 0).toString(16));
    at += 2 + (((jpeg[at + 2] ?? 0) << 8) | (jpeg[at + 3] ?? 0));
  }
  return names;
}

const APPLICATION_DATA_OR_COMMENT = /^(?:e[1-9a-f]|fe)$/;

describe("a picture that is kept", () => {
  it("has no place, no time, no camera and no other word in it, whatever the phone wrote there", async () => {
    const sent = await aPhotoWithPlace({ width: 800, height: 600 });
    // The test would prove nothing with a photo that has none.
    expect(await gps(sent)).toMatchObject({
      latitude: expect.closeTo(GPS.latitude, 3),
      longitude: expect.closeTo(GPS.longitude, 3),
    });
    expect(await parse(sent, true)).toMatchObject({ Make: "Invented Cameras" });
    expect(Buffer.from(sent).includes("Invented family")).toBe(true);
    const { bytes, small } = await pictureOf(sent);
    for (const kept of [bytes, small]) {
      expect(await gps(Buffer.from(kept))).toBeUndefined();
      expect(await parse(Buffer.from(kept), ALL_SEGMENTS)).toBeUndefined();
      expect(listSegments(kept).filter((name) => APPLICATION_DATA_OR_COMMENT.test(name))).toEqual([]);
      expect(Buffer.from(kept).includes("Invented")).toBe(false);
      const { exif, xmp, iptc, icc, orientation } = await sharp(kept).metadata();
      expect([exif, xmp, iptc, icc, orientation]).toEqual(Array(5).fill(undefined));
    }
  });

  it("stands upright, whichever way the phone was held", async () => {
    const lying = await pictureOf(await aPhotoWithPlace({ width: 800, height: 600 }));
    expect([lying.width, lying.height]).toEqual([800, 600]);
    const turned = await pictureOf(await aPhotoWithPlace({ width: 800, height: 600, orientation: 6 }));
    expect([turned.width, turned.height]).toEqual([600, 800]);
    // A quarter clockwise: what was on the left is at the top.
    const [top, bottom] = [await colourAt(turned.bytes, 0.5, 0.1), await colourAt(turned.bytes, 0.5, 0.9)];
    expect((top[0] ?? 0) > 150 && (top[2] ?? 0) < 60).toBe(true);
    expect((bottom[2] ?? 0) > 150 && (bottom[0] ?? 0) < 60).toBe(true);
  });

  it("is scaled to its longer side, and never up", async () => {
    const large = await pictureOf(await aNoisyPhoto({ width: 2400, height: 1200 }));
    expect([large.width, large.height]).toEqual([LONGEST_SIDE, LONGEST_SIDE / 2]);
    expect(await sharp(large.small).metadata()).toMatchObject({
      format: "jpeg",
      width: LONGEST_SMALL_SIDE,
      height: LONGEST_SMALL_SIDE / 2,
    });
    const little = await pictureOf(await aNoisyPhoto({ width: 40, height: 30 }));
    expect([little.width, little.height]).toEqual([40, 30]);
    expect(await sharp(little.small).metadata()).toMatchObject({ width: 40, height: 30 });
  });

  it.each(["png", "webp"] as const)(
    "is a JPEG where it came as %s, on white where it was clear",
    async (format) => {
      const clear = { r: 0, g: 0, b: 0, alpha: 0 };
      const sent = await sharp({ create: { width: 20, height: 20, channels: 4, background: clear } })
        .toFormat(format)
        .toBuffer();
      const { bytes } = await pictureOf(sent);
      expect(await sharp(bytes).metadata()).toMatchObject({ format: "jpeg", space: "srgb" });
      expect((await colourAt(bytes, 0.5, 0.5)).every((channel) => channel > 250)).toBe(true);
    },
  );
});

const ALL_SEGMENTS = { tiff: true, exif: true, gps: true, xmp: true, iptc: true, icc: true, ifd1: true };

const brand = (name: string, also = ""): Buffer =>
  Buffer.from(`\0\0\0\x18ftyp${name}\0\0\0\0${also}`, "latin1");

describe("a file that is no photo we take", () => {
  it.each([
    ["pdf", Buffer.from("%PDF-1.7\n%âãÏÓ\n1 0 obj")],
    ["svg", Buffer.from('<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>')],
    ["html", Buffer.from("<!DOCTYPE html><script>alert(1)</script>")],
    ["text", Buffer.from("Roof, north side: two sheets are soft.")],
    ["gif", Buffer.from("GIF89a\x01\0\x01\0")],
    ["heic", brand("heic", "mif1heic")],
    ["heic", brand("mif1", "mif1heic")],
    ["avif", brand("avif", "mif1avif")],
    ["film", brand("isom", "isomavc1")],
    ["tiff", Buffer.from("II*\0\x08\0\0\0", "latin1")],
    ["zip", Buffer.from("PK\x03\x04\x14\0", "latin1")],
    ["unknown", Buffer.from([0, 1, 2, 3, 4, 5, 6, 7])],
  ] as const)("is known by what it holds: %s", async (is, bytes) => {
    expect(pictureKindOf(bytes)).toBe(is);
    expect(await makePicture(bytes)).toEqual({ ok: false, error: { kind: "other-kind", is } });
    for (const words of Object.values(PHOTO_WORDS))
      expect(words.otherKind[is]).toMatch(/JPEG|captura|capture/);
  });

  it("has no bytes at all", async () => {
    expect(await makePicture(new Uint8Array())).toEqual({ ok: false, error: { kind: "empty" } });
  });

  it.each([0.02, 0.5, 0.99])("is a JPEG that ends after %d of it", async (share) => {
    const whole = await aNoisyPhoto({ width: 800, height: 600 });
    const cut = whole.subarray(0, Math.floor(whole.length * share));
    expect(await makePicture(cut)).toEqual({ ok: false, error: { kind: "broken", is: "JPEG" } });
  });

  it("only begins like one", async () => {
    const begins = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(5_000, "<script>")]);
    expect(await makePicture(begins)).toEqual({ ok: false, error: { kind: "broken", is: "JPEG" } });
  });

  it("is small as a file and enormous as a picture: it is not unpacked", async () => {
    const bomb = aBomb(30_000, 30_000);
    expect(bomb.length).toBeLessThan(200_000);
    expect(await makePicture(bomb)).toEqual({
      ok: false,
      error: { kind: "too-many-pixels", megapixels: 900 },
    });
    expect(30_000 * 30_000).toBeGreaterThan(MOST_PIXELS);
  });

  it("moves", async () => {
    const frames = await Promise.all(
      ["#ff0000", "#00ff00"].map((background) =>
        sharp({ create: { width: 10, height: 10, channels: 3, background } })
          .png()
          .toBuffer(),
      ),
    );
    const moving = await sharp(frames, { join: { animated: true } })
      .webp()
      .toBuffer();
    expect(await makePicture(moving)).toEqual({ ok: false, error: { kind: "moving" } });
  });

  it("does not keep the next one from being taken", async () => {
    const sound = await aNoisyPhoto({ width: 60, height: 40 });
    const [broken, taken] = await Promise.all([makePicture(sound.subarray(0, 400)), makePicture(sound)]);
    expect([broken.ok, taken.ok]).toEqual([false, true]);
  });
});
