/**
 * Photos of the tests, made here: pictures of plain colour or of noise, as a phone would send them, and the form that they
 * come in.
 */
import { randomUUID } from "node:crypto";
import { deflateSync } from "node:zlib";
import sharp from "sharp";

/** Portland Head, Maine, to a tenth of a degree: somewhere that no picture may tell. */
export const GPS = { latitude: 43.6, longitude: -70.2 };

export interface PhotoShape {
  readonly width: number;
  readonly height: number;
  /** EXIF: 6 is "turn clockwise by a quarter to see it upright". */
  readonly orientation?: number;
}

/** Noise, which packs badly: as large as a photo of a wall. */
export function aNoisyPhoto({ width, height }: PhotoShape): Promise<Buffer> {
  const noise = { type: "gaussian", mean: 128, sigma: 60 } as const;
  return sharp({ create: { width, height, channels: 3, background: "#808080", noise } })
    .jpeg({ quality: 90 })
    .toBuffer();
}

/** Left half red and right half blue, as the camera sees it, with its place, its time and its maker in it. */
export async function aPhotoWithPlace({ width, height, orientation = 1 }: PhotoShape): Promise<Buffer> {
  const half = { width: Math.floor(width / 2), height, channels: 3 } as const;
  const blue = await sharp({ create: { ...half, background: "#0000c0" } })
    .png()
    .toBuffer();
  return sharp({ create: { width, height, channels: 3, background: "#c00000" } })
    .composite([{ input: blue, left: half.width, top: 0 }])
    .withExif({
      IFD0: { Make: "Invented Cameras", Model: "One" },
      IFD2: { DateTimeOriginal: "2026:12:07 14:05:00" },
      IFD3: {
        GPSLatitudeRef: "N",
        GPSLatitude: "43/1 36/1 0/1",
        GPSLongitudeRef: "W",
        GPSLongitude: "70/1 12/1 0/1",
      },
    })
    .withMetadata({ orientation })
    .withXmp(
      '<x:xmpmeta xmlns:x="adobe:ns:meta/"><note>at the house of the Invented family</note></x:xmpmeta>',
    )
    .jpeg({ quality: 95 })
    .toBuffer();
}

/** A sound PNG that is small as a file and enormous as a picture. */
export function aBomb(width: number, height: number): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  // One bit of grey for each pixel: rows of a filter byte and the packed bits.
  header.set([1, 0, 0, 0, 0], 8);
  const rows = deflateSync(Buffer.alloc((Math.ceil(width / 8) + 1) * height));
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"),
    chunkOf("IHDR", header),
    chunkOf("IDAT", rows),
    chunkOf("IEND", Buffer.alloc(0)),
  ]);
}

/** A chunk of PNG (ISO/IEC 15948): length, name, content, CRC-32 of name and content. */
function chunkOf(name: string, content: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, "latin1"), content]);
  const frame = Buffer.alloc(8);
  frame.writeUInt32BE(content.length, 0);
  frame.writeUInt32BE(crc32(named), 4);
  return Buffer.concat([frame.subarray(0, 4), named, frame.subarray(4)]);
}

function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}

export interface SentForm {
  readonly fields?: Readonly<Record<string, string>>;
  readonly file?: Uint8Array;
  readonly name?: string;
}

/** The form of a crew's phone; a key of its own where none is given. */
export function aPhotoForm({ fields = {}, file, name = "photo.jpg" }: SentForm): FormData {
  const form = new FormData();
  for (const [field, value] of Object.entries({ key: randomUUID(), job: "harbor-12", ...fields })) {
    form.append(field, value);
  }
  // What the name and the type say is nothing to go by.
  if (file !== undefined)
    form.append("photo", new Blob([Uint8Array.from(file)], { type: "image/jpeg" }), name);
  return form;
}
