/**
 * The files that pages load: our own style sheets, and the legibility face out of its package. Nothing comes from another
 * host, so that a page looks the same on a site without signal.
 */
import { createRequire } from "node:module";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import express from "express";
import { ROUTES } from "./paths.js";

const FACE = "@fontsource/atkinson-hyperlegible-next";
/** The service worker of crews' pages. It may ask for scopes outside its folder; WORKER_SCOPES says for which it does. */
const WORKER = "offline-worker.js";
/** views lies beside src and beside dist. */
export const VIEWS_FOLDER = fileURLToPath(new URL("../../views", import.meta.url));

/** Serves /static, with type and idb out of their packages. */
export function serveFiles(app: express.Express): void {
  const { resolve } = createRequire(import.meta.url);
  const face = dirname(resolve(`${FACE}/package.json`));
  app.use(
    ROUTES.fonts,
    express.static(join(face, "files"), { maxAge: "365d", immutable: true, index: false }),
  );
  app.use(`${ROUTES.files}/idb`, express.static(dirname(resolve("idb")), { index: false }));
  app.use(
    ROUTES.files,
    express.static(join(VIEWS_FOLDER, "static"), {
      index: false,
      setHeaders: (res, path) => {
        if (basename(path) === WORKER) res.setHeader("Service-Worker-Allowed", "/");
      },
    }),
  );
}
