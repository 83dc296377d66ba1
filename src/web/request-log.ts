/**
 * Notes each answer for the log and the figures: what kind of request it was and how it went, nothing about who asked or
 * for which house.
 */
import type { RequestHandler, Response } from "express";
import type { AnsweredRequest } from "./metrics.js";

export type NoteAnswer = (request: AnsweredRequest) => void;

/** Of requests that no route answered. */
const NO_ROUTE = "none";
const KNOWN_METHODS: ReadonlySet<string> = new Set(["GET", "HEAD", "POST"]);

/** Calls back for each request when its answer has been sent or its sender has gone. */
export function noteAnswers(note: NoteAnswer): RequestHandler {
  return (req, res, next) => {
    const startedAt = performance.now();
    res.once("close", () => {
      const route: unknown = req.route;
      note({
        // Anybody may make methods up; the figures must not grow with them.
        method: KNOWN_METHODS.has(req.method) ? req.method : "other",
        route: hasPath(route) ? route.path : NO_ROUTE,
        // A stream has no end of its own: whoever leaves it has had what was asked for.
        status: res.writableEnded || isStream(res) ? res.statusCode : 499,
        milliseconds: performance.now() - startedAt,
      });
    });
    next();
  };
}

function isStream(res: Response): boolean {
  return String(res.getHeader("content-type")).startsWith("text/event-stream");
}

function hasPath(route: unknown): route is { readonly path: string } {
  return typeof route === "object" && route !== null && "path" in route && typeof route.path === "string";
}
