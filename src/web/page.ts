/**
 * Puts a page into the layout. A page gets its finished view and nothing that it would have to work on.
 */
import type { Response } from "express";
import type { Language } from "../board/spoken-time.js";

/** The templates under views/pages. */
export type PageName =
  | "account"
  | "board"
  | "company-difference"
  | "company-file"
  | "crew-links"
  | "crews"
  | "day-sheet"
  | "days-off"
  | "error"
  | "hold"
  | "holds"
  | "invitation"
  | "job"
  | "jobs"
  | "link-made"
  | "people"
  | "plans"
  | "record"
  | "sign-in"
  | "waiting";

export interface PageLocals {
  readonly title: string;
  readonly view: unknown;
  readonly language?: Language;
  /** Rules for this page's own style element: numbers, ids and plain words only. */
  readonly styleRules?: string;
}

const STYLES = {
  account: ["forms", "people"],
  board: ["hatches", "board"],
  "company-difference": ["forms", "record"],
  "company-file": ["forms", "record"],
  "crew-links": ["forms", "people"],
  crews: ["ledger", "forms"],
  "day-sheet": ["hatches", "day-sheet"],
  "days-off": ["forms"],
  error: [],
  hold: ["forms"],
  holds: ["forms"],
  invitation: ["forms", "people"],
  job: ["hatches", "ledger", "forms"],
  jobs: ["ledger"],
  "link-made": ["forms", "people"],
  people: ["forms", "people"],
  plans: ["ledger", "forms"],
  record: ["forms", "record"],
  "sign-in": ["forms", "people"],
  waiting: ["hatches", "ledger"],
} as const satisfies Record<PageName, readonly string[]>;

/** Answers with a page. The plan behind it may change at any time, so that no copy of it is kept. */
export function renderPage(res: Response, page: PageName, locals: PageLocals): void {
  res.set("Cache-Control", "no-store");
  res.render("layout", {
    page,
    title: locals.title,
    view: locals.view,
    language: locals.language ?? "en",
    styleRules: locals.styleRules ?? "",
    styles: STYLES[page],
    isSheet: page === "day-sheet",
  });
}
