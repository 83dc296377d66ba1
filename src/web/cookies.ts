/**
 * The cookies of the house: a session's and a crew link's. No script reads them, no other site sends them with a form, and
 * behind TLS they travel only there. A session's cookie has no date: it goes when the browser is closed.
 */
import { createHash } from "node:crypto";
import type { CookieOptions, Request, Response } from "express";

const SESSION = "daylap-session";
/** Everything that a crew's phone may open begins with this. */
const CREW_PATH = "/crew";
const CREW = "daylap-crew-";
/** Of cookies that claim to be crew links, no more are looked at. */
const MOST_CREW_COOKIES = 4;

/** Behind TLS with the prefix that keeps other hosts of the domain from setting it. */
const sessionName = (req: Request): string => (req.secure ? `__Host-${SESSION}` : SESSION);
const crewPrefix = (req: Request): string => (req.secure ? `__Secure-${CREW}` : CREW);

const optionsFor = (req: Request, path: string): CookieOptions => ({
  httpOnly: true,
  sameSite: "lax",
  secure: req.secure,
  path,
});

/** The token of the session that the browser holds; undefined where it holds none. */
export function findSessionToken(req: Request): string | undefined {
  const name = sessionName(req);
  return listCookies(req).find(([given]) => given === name)?.[1];
}

export function setSessionCookie(req: Request, res: Response, token: string): void {
  res.cookie(sessionName(req), token, optionsFor(req, "/"));
}

export function clearSessionCookie(req: Request, res: Response): void {
  res.clearCookie(sessionName(req), optionsFor(req, "/"));
}

/** The tokens of the crew links that the phone has opened, valid or not. */
export function listCrewTokens(req: Request): readonly string[] {
  const prefix = crewPrefix(req);
  return listCookies(req)
    .filter(([name]) => name.startsWith(prefix))
    .slice(0, MOST_CREW_COOKIES)
    .map(([, token]) => token);
}

/** One cookie for each crew, so that a crew's new link takes the place of its old one and of no other's. */
export function setCrewCookie(
  req: Request,
  res: Response,
  link: { readonly crewId: string; readonly token: string; readonly expiresAt: Date | null },
): void {
  const name = crewPrefix(req) + createHash("sha256").update(link.crewId).digest("hex").slice(0, 12);
  res.cookie(name, link.token, {
    ...optionsFor(req, CREW_PATH),
    ...(link.expiresAt && { expires: link.expiresAt }),
  });
}

function listCookies(req: Request): readonly (readonly [name: string, value: string])[] {
  return (req.get("cookie") ?? "").split(";").flatMap((pair) => {
    const at = pair.indexOf("=");
    return at === -1 ? [] : [[pair.slice(0, at).trim(), pair.slice(at + 1).trim()] as const];
  });
}
