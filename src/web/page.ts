/**
 * Puts a page into the layout. A page gets its finished view and nothing that it would have to work on.
 */
import type { Response } from "express";
import type { Language } from "../board/spoken-time.js";
import type { Plan } from "../domain/plan-format.js";
import { invariant } from "../domain/result.js";
import type { LiveView } from "./live-stamp.js";
import type { OfflineView } from "./offline-copy.js";
import { encodingFor, PackedText } from "./packing.js";
import { cacheKey, findFinished, keepFinished, type FinishedPage } from "./page-cache.js";
import { contentPolicy } from "./security.js";

/** The templates under views/pages. */
export type PageName =
  | "account"
  | "board"
  | "calls"
  | "company-difference"
  | "company-file"
  | "crew-links"
  | "crews"
  | "day-sheet"
  | "days-off"
  | "error"
  | "hold"
  | "holds"
  | "house"
  | "house-links"
  | "invitation"
  | "job"
  | "jobs"
  | "link-made"
  | "move"
  | "people"
  | "photo"
  | "plans"
  | "print"
  | "published"
  | "record"
  | "report"
  | "reports"
  | "sign-in"
  | "slip"
  | "waiting"
  | "way-out"
  | "ways-out";

export interface PageLocals {
  readonly title: string;
  readonly view: unknown;
  readonly language?: Language;
  /** Rules for this page's own style element: numbers, ids and plain words only. */
  readonly styleRules?: string;
  /** How the page keeps itself true while it stays open; one without stays as it came. */
  readonly live?: LiveView;
  /** How the page works without signal; one without does not. */
  readonly offline?: OfflineView | undefined;
}

const STYLES = {
  account: ["forms", "people"],
  board: ["hatches", "forms", "board", "published", "move"],
  calls: ["forms", "published"],
  "company-difference": ["forms", "record"],
  "company-file": ["forms", "record"],
  "crew-links": ["forms", "people"],
  crews: ["ledger", "forms"],
  "day-sheet": ["hatches", "day-sheet", "offline"],
  "days-off": ["forms"],
  error: [],
  hold: ["forms"],
  holds: ["forms"],
  house: ["house"],
  "house-links": ["forms", "people"],
  invitation: ["forms", "people"],
  job: ["hatches", "ledger", "forms", "photos", "reports"],
  jobs: ["ledger"],
  "link-made": ["forms", "people"],
  move: ["ledger", "forms", "move"],
  people: ["forms", "people"],
  photo: ["day-sheet", "forms", "photos", "offline"],
  plans: ["ledger", "forms"],
  print: ["print"],
  published: ["ledger", "forms", "published"],
  report: ["hatches", "day-sheet", "forms", "report", "photos", "offline"],
  reports: ["forms", "photos", "reports"],
  record: ["forms", "record", "photos"],
  "sign-in": ["forms", "people"],
  slip: ["forms", "ways"],
  waiting: ["hatches", "ledger"],
  "way-out": ["hatches", "ledger", "forms", "board", "ways"],
  "ways-out": ["ledger", "forms", "ways"],
} as const satisfies Record<PageName, readonly string[]>;

/** Pages for people who have no account: without the office's masthead. */
const SHEETS: ReadonlySet<PageName> = new Set(["day-sheet", "house", "photo", "print", "report"]);

/** Answers with a page. The plan behind it may change at any time, so that no browser keeps a copy of it. */
export function renderPage(res: Response, page: PageName, locals: PageLocals): void {
  render(res, page, locals, (html) => {
    res.send(html);
  });
}

/**
 * The same for a page that depends on nothing but the plan (and its company), `what` it shows of it, and who looks:
 * `makeLocals` is asked only where the page has not been sent before.
 */
export function renderPageOf(
  res: Response,
  plan: Plan,
  what: string,
  page: PageName,
  makeLocals: () => PageLocals,
): void {
  const key = cacheKey(res, `${page} ${what}`);
  const finished = findFinished(plan, key);
  if (finished !== undefined) {
    sendFinished(res, finished);
    return;
  }
  render(res, page, makeLocals(), (html) => {
    const made = { html: new PackedText(html), contentPolicy: res.get("Content-Security-Policy") ?? "" };
    keepFinished(plan, key, made);
    sendFinished(res, made);
  });
}

function sendFinished(res: Response, { html, contentPolicy: policy }: FinishedPage): void {
  const encoding = encodingFor(res.req);
  const send = (bytes: Buffer): void => {
    if (encoding !== "identity") res.set("Content-Encoding", encoding);
    res.set({ "Cache-Control": "no-store", "Content-Security-Policy": policy, Vary: "Accept-Encoding" });
    res.type("html").send(bytes);
  };
  html
    .in(encoding)
    .then(send)
    .catch((error: unknown) => fail(res, error));
}

/** To the error page: what fails after the route has returned, nobody else would catch. */
function fail(res: Response, error: unknown): void {
  res.req.next?.(error);
}

function render(res: Response, page: PageName, locals: PageLocals, send: (html: string) => void): void {
  const styleRules = locals.styleRules ?? "";
  invariant(!/[&<>"']/.test(styleRules), "the rules of a style element have nothing that HTML would escape");
  res.set("Cache-Control", "no-store").set("Content-Security-Policy", contentPolicy(styleRules));
  const all = {
    page,
    title: locals.title,
    view: locals.view,
    language: locals.language ?? "en",
    styleRules,
    live: locals.live ?? null,
    offline: locals.offline ?? null,
    styles: STYLES[page],
    isSheet: SHEETS.has(page),
  };
  res.render("layout", all, (error: unknown, html: string) => {
    // A template that fails is a bug, which the error page tells.
    if (error instanceof Error) fail(res, error);
    else send(html);
  });
}
