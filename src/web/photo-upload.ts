/**
 * The form that a photo comes in, held in memory and nowhere else. What is too big is cut off as soon as it is: the answer
 * goes out at once, and what the phone still sends is thrown away, for a connection that is closed in its face would
 * never show it the answer. Only so much is received at once, for each is in memory as a whole.
 */
import type { Request, Response } from "express";
import multer, { MulterError } from "multer";
import { fail, ok, type Result } from "../domain/result.js";

export const MOST_PHOTO_MEGABYTES = 10;
const MEGABYTE = 1024 * 1024;
const MOST_PHOTO_BYTES = MOST_PHOTO_MEGABYTES * MEGABYTE;
/** With the other fields and what stands between them. */
const MOST_BODY_BYTES = MOST_PHOTO_BYTES + MEGABYTE / 16;
/** Whoever goes on for longer than this does not wait for an answer. */
const MOST_THROWN_AWAY_BYTES = 128 * MEGABYTE;
/** Of all photos that are being received or looked at: a dozen of the largest, or some hundred as phones scale them. */
const MOST_IN_HAND_BYTES = 128 * MEGABYTE;

export interface PhotoUpload {
  readonly fields: unknown;
  /** Undefined where no file was chosen. */
  readonly file: Uint8Array | undefined;
}

export type UploadFailure = "too-big" | "several-files" | "unreadable" | "busy";

const receive = multer({
  storage: multer.memoryStorage(),
  limits: {
    files: 1,
    fileSize: MOST_PHOTO_BYTES,
    fields: 12,
    fieldSize: 1024,
    fieldNestingDepth: 0,
    parts: 13,
  },
}).single("photo");

/** What has been promised room, by the length that each says it has. */
let promisedBytes = 0;

/** What the form holds; resolves before all of it is there where it is not taken. */
export function readPhotoUpload(req: Request, res: Response): Promise<Result<PhotoUpload, UploadFailure>> {
  return new Promise((resolve) => {
    let bytes = 0;
    let isOver = false;
    const end = (result: Result<PhotoUpload, UploadFailure>): void => {
      isOver = true;
      resolve(result);
    };
    const cutOff = (failure: UploadFailure): void => {
      if (isOver) return;
      req.unpipe();
      req.resume();
      end(fail(failure));
    };
    req.on("data", (chunk: Uint8Array) => {
      bytes += chunk.byteLength;
      if (bytes > MOST_BODY_BYTES) cutOff("too-big");
      if (bytes > MOST_THROWN_AWAY_BYTES) req.destroy();
    });
    const length = Number(req.get("content-length") ?? MOST_BODY_BYTES);
    if (length > MOST_BODY_BYTES) {
      cutOff("too-big");
      return;
    }
    if (promisedBytes + length > MOST_IN_HAND_BYTES) {
      cutOff("busy");
      return;
    }
    // Until it is answered: what was received is in memory while it waits for its turn.
    promisedBytes += length;
    res.once("close", () => {
      promisedBytes -= length;
    });
    void receive(req, res, (error: unknown) => {
      if (isOver) return;
      if (error instanceof MulterError) end(fail(FAILURES.get(error.code) ?? "unreadable"));
      else if (error !== undefined && error !== null) end(fail("unreadable"));
      else end(ok({ fields: req.body, file: req.file?.buffer }));
    });
  });
}

const FAILURES: ReadonlyMap<string, UploadFailure> = new Map([
  ["LIMIT_FILE_SIZE", "too-big"],
  ["LIMIT_FIELD_VALUE", "too-big"],
  ["LIMIT_FILE_COUNT", "several-files"],
  ["LIMIT_UNEXPECTED_FILE", "several-files"],
]);
