/**
 * Answers are packed for whoever takes them so: a phone with one bar of signal waits for every byte. What is sent again and
 * again is packed once.
 */
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";
import compression from "compression";
import type { Request, RequestHandler } from "express";

/** Better costs ten times as long and saves nothing on a page. */
const BROTLI_QUALITY = 5;
const PARAMS = { [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY };

/** Never a stream, which must go out line by line. */
export function packAnswers(): RequestHandler {
  return compression({
    brotli: { params: PARAMS },
    filter: (req, res) => {
      const type = res.getHeader("content-type");
      return !String(type).startsWith("text/event-stream") && compression.filter(req, res);
    },
  });
}

export type Encoding = "br" | "gzip" | "identity";

/** How whoever asks takes an answer best. */
export function encodingFor(req: Request): Encoding {
  return (["br", "gzip"] as const).find((encoding) => req.acceptsEncodings(encoding)) ?? "identity";
}

const packGzip = promisify(gzip);
const packBrotli = promisify(brotliCompress);

/** One text in each encoding that is asked for, packed when it is first asked for. */
export class PackedText {
  readonly #text: string;
  readonly #quality: number;
  readonly #packed = new Map<Encoding, Promise<Buffer>>();

  /** `quality` of Brotli: high for what never changes. */
  constructor(text: string, quality = BROTLI_QUALITY) {
    this.#text = text;
    this.#quality = quality;
  }

  in(encoding: Encoding): Promise<Buffer> {
    const known = this.#packed.get(encoding) ?? this.#pack(encoding);
    this.#packed.set(encoding, known);
    return known;
  }

  #pack(encoding: Encoding): Promise<Buffer> {
    const bytes = Buffer.from(this.#text);
    if (encoding === "identity") return Promise.resolve(bytes);
    if (encoding === "gzip") return packGzip(bytes, { level: constants.Z_BEST_COMPRESSION });
    return packBrotli(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: this.#quality } });
  }
}
