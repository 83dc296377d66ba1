/**
 * The files that pages load: our own style sheets, and the legibility face out of its package. Nothing comes from another
 * host, so that a page looks the same on a site without signal.
 */
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import express from "express";
import { ROUTES } from "./paths.js";

const FACE = "@fontsource/atkinson-hyperlegible-next";
/** views lies beside src and beside dist. */
export const VIEWS_FOLDER = fileURLToPath(new URL("../../views", import.meta.url));

/** Serves /static and /static/fonts. */
export function serveFiles(app: express.Express): void {
  const face = dirname(createRequire(import.meta.url).resolve(`${FACE}/package.json`));
  app.use(
    ROUTES.fonts,
    express.static(join(face, "files"), { maxAge: "365d", immutable: true, index: false }),
  );
  app.use(ROUTES.files, express.static(join(VIEWS_FOLDER, "static"), { index: false }));
}
