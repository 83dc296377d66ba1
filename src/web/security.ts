/**
 * What every page carries and what every change must prove. No script runs and no style but our own applies; the
 * board's positions are the one exception, in a style element whose hash the policy names.
 */
import { createHash } from "node:crypto";
import type { NextFunction, Request, Response } from "express";
import { HttpRefusal } from "./http-refusal.js";

/** A browser goes by the type that is said, and guesses none. */
export const NO_SNIFFING = { "X-Content-Type-Options": "nosniff" } as const;

const UNCHANGING_HEADERS = {
  ...NO_SNIFFING,
  "X-Frame-Options": "DENY",
  // Not "no-referrer": with it a browser names no origin when it posts a form, and the form would be refused.
  "Referrer-Policy": "same-origin",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
} as const;

/** Security headers, with the policy of a page that has no style of its own. */
export function securityHeaders(_req: Request, res: Response, next: NextFunction): void {
  res.set(UNCHANGING_HEADERS);
  res.set("Content-Security-Policy", contentPolicy(""));
  next();
}

/** The content policy of a page: our own files, and the one style element whose rules are these. */
export function contentPolicy(styleRules: string): string {
  const hash = createHash("sha256").update(styleRules).digest("base64");
  return [
    "default-src 'self'",
    "script-src 'self'",
    `style-src 'self'${styleRules === "" ? "" : ` 'sha256-${hash}'`}`,
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}

const METHODS: ReadonlySet<string> = new Set(["GET", "HEAD", "POST"]);

/** Refuses what no page of ours does, before any route sees it. */
export function ourMethodsOnly(req: Request, res: Response, next: NextFunction): void {
  if (METHODS.has(req.method)) {
    next();
    return;
  }
  res.set("Allow", [...METHODS].join(", "));
  next(new HttpRefusal(405, `Pages here are read and forms are sent; nothing answers to ${req.method}.`));
}

/**
 * Refuses a change that a page of another origin may have sent. A browser says where a form comes from: in Sec-Fetch-Site
 * (the browser's own comparison, right behind any proxy), or in Origin, which is compared with the host asked for.
 * A request that says neither is no form of ours.
 */
export function sameOriginOnly(req: Request, _res: Response, next: NextFunction): void {
  if (req.method === "GET" || req.method === "HEAD" || isOurs(req)) next();
  else
    next(
      new HttpRefusal(
        403,
        "This form was not sent from a page of this app, so nothing was changed. Open the page here and send it again.",
      ),
    );
}

function isOurs(req: Request): boolean {
  const site = req.get("sec-fetch-site");
  if (site !== undefined) return site === "same-origin";
  const origin = req.get("origin");
  const host = req.get("host");
  if (origin === undefined || host === undefined || !URL.canParse(origin)) return false;
  return new URL(origin).host === host;
}
