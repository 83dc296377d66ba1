/**
 * The end of every request that no route answered or that one failed on: 404 and other refusals with their sentence,
 * and 500 with a reference that is also in the log and nothing else of what went wrong.
 */
import { randomUUID } from "node:crypto";
import type { ErrorRequestHandler, Request, RequestHandler, Response } from "express";
import { DatabaseFailure, type DatabaseFailureKind } from "../store/database-failure.js";
import type { Text } from "../domain/plan-format.js";
import { HttpRefusal } from "./http-refusal.js";
import { renderPage } from "./page.js";
import { whoOf } from "./who.js";

/** Takes a bug with its reference; by default the process's standard error does. */
export type BugLog = (reference: string, error: unknown) => void;

export const logToStandardError: BugLog = (reference, error) => {
  console.error(`[${reference}]`, error);
};

/** Answers what no route has answered. */
export const notFound: RequestHandler = (req) => {
  throw new HttpRefusal(404, `There is no page at ${req.path}.`, `No hay ninguna página en ${req.path}.`);
};

const HEADINGS: Readonly<Record<number, Text>> = {
  400: { en: "That request could not be read", es: "No se pudo leer la solicitud" },
  403: { en: "Not from here", es: "Desde aquí no" },
  404: { en: "Not found", es: "No se encontró" },
  405: { en: "Not done that way", es: "Así no se hace" },
  409: { en: "Somebody was faster", es: "Alguien fue más rápido" },
  413: { en: "Too much at once", es: "Demasiado a la vez" },
  503: { en: "Not at the moment", es: "Por el momento no" },
  507: { en: "The disk is full", es: "El disco está lleno" },
};
const ANY_HEADING: Text = { en: "Something went wrong", es: "Algo salió mal" };
const UNREADABLE: Text = {
  en: "The request could not be read. Go back and try again.",
  es: "No se pudo leer la solicitud. Regrese e intente otra vez.",
};
const BUG: Text = {
  en: "Something in the program went wrong, and it is not your doing. Nothing was half done.",
  es: "Algo falló en el programa y no es culpa suya. Nada quedó a medias.",
};
const FAILURES_IN_SPANISH = {
  unreachable: "La base de datos no responde. Intente otra vez en un momento.",
  "read-only": "Por ahora no se puede guardar nada. Intente otra vez en un momento.",
  "disk-full": "El disco está lleno y no se puede guardar nada. Avise a la oficina.",
} as const satisfies Record<DatabaseFailureKind, string>;

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
      show(req, res, error.status, { en: error.message, es: error.spanish }, "");
      return;
    }
    const status = clientStatus(error);
    if (status !== undefined) {
      show(req, res, status, UNREADABLE, "");
      return;
    }
    const reference = randomUUID().slice(0, 8);
    log(reference, error);
    if (error instanceof DatabaseFailure) {
      const said = { en: error.message, es: FAILURES_IN_SPANISH[error.kind] };
      show(req, res, STATUS_OF_FAILURE[error.kind], said, reference);
      return;
    }
    show(req, res, 500, BUG, reference);
  };
}

/** To a script the sentence alone. To whoever is no person of the office in Spanish as well, where there is Spanish for it. */
function show(req: Request, res: Response, status: number, sentence: Text, reference: string): void {
  if (req.accepts(["html", "json"]) === "json") {
    res.status(status).json({ sentence: sentence.en });
    return;
  }
  const heading = HEADINGS[status] ?? ANY_HEADING;
  const isForCrews = whoOf(res).kind !== "person" && sentence.es !== "";
  const spanish = isForCrews ? { heading: heading.es, sentence: sentence.es } : null;
  const view = { heading: heading.en, sentence: sentence.en, reference, spanish };
  renderPage(res.status(status), "error", { title: heading.en, view });
}

/** The status of a request that express itself could not read (a bad escape, a body too long). */
function clientStatus(error: unknown): number | undefined {
  if (!(error instanceof Error) || !("status" in error) || typeof error.status !== "number") return undefined;
  return error.status >= 400 && error.status < 500 ? error.status : undefined;
}
