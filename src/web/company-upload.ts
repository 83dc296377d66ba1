/** An uploaded company file: chosen as a file or pasted as text, in one form, held in memory and nowhere else. */
import type { Request, Response } from "express";
import multer, { MulterError } from "multer";
import { fail, ok, type Result } from "../domain/result.js";
import { textOf } from "./form-body.js";

export const MOST_UPLOAD_BYTES = 20 * 1024 * 1024;

export interface UploadedText {
  readonly text: string;
  /** Whether it was pasted, so that it can be shown again. */
  readonly isPasted: boolean;
}

const receive = multer({
  storage: multer.memoryStorage(),
  limits: { files: 1, fileSize: MOST_UPLOAD_BYTES, fields: 4, fieldSize: MOST_UPLOAD_BYTES, parts: 6 },
}).single("file");

/** The text of the form's file, or of its text field where no file was chosen; or a sentence that says what is wrong. */
export async function readUpload(req: Request, res: Response): Promise<Result<UploadedText, string>> {
  const error = await new Promise<unknown>((resolve) => {
    void receive(req, res, resolve);
  });
  if (error instanceof MulterError) return fail(sentenceOf(error));
  // A form that is cut short or is none: what came of it is not read.
  if (error !== undefined && error !== null)
    return fail("The form could not be read. Upload the file again.");
  const pasted = textOf(req.body, "text");
  if (req.file === undefined || req.file.size === 0) {
    return pasted.trim() === ""
      ? fail("Choose a company file, or paste one.")
      : ok({ text: pasted, isPasted: true });
  }
  if (pasted.trim() !== "") return fail("There are a file and a pasted text. Give one of the two.");
  try {
    return ok({ text: new TextDecoder("utf-8", { fatal: true }).decode(req.file.buffer), isPasted: false });
  } catch {
    return fail("The file is no text in UTF-8, so it is no company file. Save it as plain text, UTF-8.");
  }
}

function sentenceOf({ code }: MulterError): string {
  if (code === "LIMIT_FILE_SIZE" || code === "LIMIT_FIELD_VALUE") {
    return `The file is larger than ${MOST_UPLOAD_BYTES / 1024 / 1024} MB, which is the most that a company file may have.`;
  }
  return "The form holds more than one file. Upload one company file.";
}
