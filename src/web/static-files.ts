/**
 * Serves what pages load: our own styles, scripts and icon, and the legibility face out of its package. Nothing comes from
 * another host, so that a page looks the same on a site without signal. A phone on a roof pays for each header too: of
 * those that guard a page, a file has the ones that mean something on it.
 */
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import express, { type RequestHandler } from "express";
import { encodingFor } from "./packing.js";
import { ROUTES } from "./paths.js";
import { contentPolicy, NO_SNIFFING } from "./security.js";
import { fileStamp, findFile } from "./shipped-files.js";

const FACE = "@fontsource/atkinson-hyperlegible-next";
/** The service worker of crews' pages. It may ask for scopes outside its folder; WORKER_SCOPES says for which it does. */
const WORKER = "offline-worker.js";
const FOR_GOOD = "public, max-age=31536000, immutable";

/** Serves /static: a file under its stamp for good; without one, or with another version's, as it is now. */
export function serveFiles(app: express.Express): void {
  const { resolve } = createRequire(import.meta.url);
  const face = join(dirname(resolve(`${FACE}/package.json`)), "files");
  app.use(
    ROUTES.fonts,
    express.static(face, {
      cacheControl: false,
      index: false,
      setHeaders: (res) => res.set({ ...NO_SNIFFING, "Cache-Control": FOR_GOOD }),
    }),
  );
  app.use(ROUTES.files, serveFile);
}

const ADDRESS = /^\/(?:([\w-]{8})\/)?((?:idb\/)?[\w.-]+)$/;

const serveFile: RequestHandler = async (req, res, next) => {
  const [, stamp, name = ""] = ADDRESS.exec(req.path) ?? [];
  const file = req.method === "GET" || req.method === "HEAD" ? findFile(name) : undefined;
  // A worker whose parts the browser has of another version would be a mixture of both.
  const isOtherWorker = name === WORKER && stamp !== undefined && stamp !== fileStamp();
  if (file === undefined || isOtherWorker) {
    next();
    return;
  }
  const encoding = encodingFor(req);
  res.set({
    ...NO_SNIFFING,
    "Content-Type": file.type,
    "Cache-Control": stamp === fileStamp() ? FOR_GOOD : "no-cache",
    // The same text however it is packed.
    ETag: `W/"${file.digest}"`,
    Vary: "Accept-Encoding",
  });
  // What a worker may ask for goes by its own answer, and a picture may be opened as a page.
  if (name === WORKER)
    res.set({ "Service-Worker-Allowed": "/", "Content-Security-Policy": contentPolicy("") });
  if (name.endsWith(".svg")) res.set("Content-Security-Policy", "default-src 'none'");
  if (encoding !== "identity") res.set("Content-Encoding", encoding);
  res.send(await file.packed.in(encoding));
};
