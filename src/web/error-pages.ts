/**
 * The end of every request that no route answered or that one failed on: 404 and other refusals with their sentence,
 * and 500 with a reference that is also in the log and nothing else of what went wrong.
 */
import { randomUUID } from "node:crypto";
import type { ErrorRequestHandler, Request, RequestHandler, Response } from "express";
import { DatabaseFailure, type DatabaseFailureKind } from "../store/database-failure.js";
import { HttpRefusal } from "./http-refusal.js";
import { renderPage } from "./page.js";

/** Takes a bug with its reference; by default the process's standard error does. */
export type BugLog = (reference: string, error: unknown) => void;

export const logToStandardError: BugLog = (reference, error) => {
  console.error(`[${reference}]`, error);
};

/** Answers what no route has answered. */
export const notFound: RequestHandler = (req) => {
  throw new HttpRefusal(404, `There is no page at ${req.path}.`);
};

const HEADINGS: Readonly<Record<number, string>> = {
  400: "That request could not be read",
  403: "Not from here",
  404: "Not found",
  405: "Not done that way",
  409: "Somebody was faster",
  413: "Too much at once",
  503: "Not at the moment",
  507: "The disk is full",
};

const STATUS_OF_FAILURE: Readonly<Record<DatabaseFailureKind, 503 | 507>> = {
  unreachable: 503,
  "read-only": 503,
  "disk-full": 507,
};

/** Words a thrown refusal or bug. */
export function errorPage(log: BugLog): ErrorRequestHandler {
  return (error: unknown, req: Request, res: Response, next) => {
    if (res.headersSent) {
      next(error);
      return;
    }
    if (error instanceof HttpRefusal) {
      show(req, res, error.status, error.message, "");
      return;
    }
    const status = clientStatus(error);
    if (status !== undefined) {
      show(req, res, status, "The request could not be read. Go back and try again.", "");
      return;
    }
    const reference = randomUUID().slice(0, 8);
    log(reference, error);
    if (error instanceof DatabaseFailure) {
      show(req, res, STATUS_OF_FAILURE[error.kind], error.message, reference);
      return;
    }
    show(
      req,
      res,
      500,
      "Something in the program went wrong, and it is not your doing. Nothing was half done.",
      reference,
    );
  };
}

function show(_req: Request, res: Response, status: number, sentence: string, reference: string): void {
  const heading = HEADINGS[status] ?? "Something went wrong";
  renderPage(res.status(status), "error", { title: heading, view: { heading, sentence, reference } });
}

/** The status of a request that express itself could not read (a bad escape, a body too long). */
function clientStatus(error: unknown): number | undefined {
  if (!(error instanceof Error) || !("status" in error) || typeof error.status !== "number") return undefined;
  return error.status >= 400 && error.status < 500 ? error.status : undefined;
}
