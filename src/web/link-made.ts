/**
 * The answer to a form that made a private link: the link itself, shown this once, for it is kept nowhere as it is.
 */
import type { Request, Response } from "express";
import { originOf } from "./origin.js";
import { renderPage } from "./page.js";

export interface MadeLink {
  readonly heading: string;
  /** For whom it is and what it opens. */
  readonly sentences: readonly string[];
  /** Its path, token and all. */
  readonly path: string;
  readonly back: { readonly href: string; readonly text: string };
}

export function showMadeLink(req: Request, res: Response, { path, ...words }: MadeLink): void {
  renderPage(res, "link-made", { title: words.heading, view: { ...words, url: originOf(req) + path } });
}
