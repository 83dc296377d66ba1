/** Answers are packed (gzip) for whoever takes them so: a phone with one bar of signal waits for every byte. */
import compression from "compression";
import type { RequestHandler } from "express";

/** Never a stream, which must go out line by line. */
export function packAnswers(): RequestHandler {
  return compression({
    filter: (req, res) => {
      const type = res.getHeader("content-type");
      return !String(type).startsWith("text/event-stream") && compression.filter(req, res);
    },
  });
}
