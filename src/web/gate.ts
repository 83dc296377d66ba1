/**
 * Before every route: finds out who asks, and lets through what the access table allows. What is in no row of it is not
 * found, whoever asks; somebody unknown is led to the sign-in; somebody known is told why not.
 */
import type { Request, RequestHandler, Response } from "express";
import type { Text } from "../domain/plan-format.js";
import type { Actor, Person } from "../domain/person.js";
import type { People } from "../services/people.js";
import { findAccess, mayAsk, type AccessMatch, type Method, type RouteName } from "./access.js";
import { findSessionToken, listCrewTokens } from "./cookies.js";
import { HttpRefusal } from "./http-refusal.js";
import { paths } from "./paths.js";
import { askerOf, NOBODY, type Who } from "./who.js";

export interface GateOptions {
  /** Whoever reaches the app is this person: for a demo that listens on its own machine only. */
  readonly automatic?: Person;
}

/** Names under which only the machine itself is reached. */
const OWN_MACHINE: ReadonlySet<string> = new Set(["localhost", "127.0.0.1", "[::1]", "::1"]);

const THE_DEMO_HAS_NO_ACCOUNT: ReadonlySet<RouteName> = new Set([
  "account",
  "changePassword",
  "signOut",
  "signOutEverywhere",
]);

/** Sets `res.locals.who`, `.actor` and `.may` (what the templates ask), or refuses. */
export function gate(people: People, { automatic }: GateOptions = {}): RequestHandler {
  return async (req, res, next) => {
    res.set("Cache-Control", "no-store");
    const matches = findAccess(req.method, req.path);
    const who =
      automatic === undefined
        ? await findWho(people, req)
        : await findAutomatic(people, automatic, matches, req);
    admit(res, who);
    if (matches.length === 0) {
      throw new HttpRefusal(404, `There is no page at ${req.path}.`, `No hay ninguna página en ${req.path}.`);
    }
    if (matches.every((match) => isAllowed(who, match))) next();
    else refuse(who, matches, req, res);
  };
}

async function findWho(people: People, req: Request): Promise<Who> {
  const token = findSessionToken(req);
  const person = token === undefined ? undefined : await people.session(token, !isByScript(req));
  if (person !== undefined) return { kind: "person", person, isAutomatic: false };
  return findCrew(people, req);
}

/** Whose links the browser has opened, where they are still good. */
async function findCrew(people: People, req: Request): Promise<Who> {
  const links = await Promise.all(
    listCrewTokens(req).map((crewToken) => people.openPrivateLink("crew", crewToken)),
  );
  const crewIds = links.flatMap((link) => (link === undefined ? [] : [link.subject]));
  return crewIds.length > 0 ? { kind: "crew", crewIds } : NOBODY;
}

/** A page that listens, or that renews itself: nobody need be sitting in front of it, and a session must end some time. */
function isByScript(req: Request): boolean {
  return req.path === paths.live() || req.get(RENEWAL_HEADER) !== undefined;
}

/** Sent by views/static/live.js when it fetches its own page again. */
const RENEWAL_HEADER = "x-page-renewal";

/**
 * Whoever has opened a crew's link is that crew's phone on the pages of that crew, in the demo too: how else would a
 * visitor see what a phone keeps without signal? Everywhere else she is the demo's person.
 *
 * A page of another site could give its own name this machine's address and so speak to the demo in its visitor's
 * browser (DNS rebinding); but then the browser names that other host.
 */
async function findAutomatic(
  people: People,
  person: Person,
  matches: readonly AccessMatch[],
  req: Request,
): Promise<Who> {
  if (!OWN_MACHINE.has(req.hostname)) {
    throw new HttpRefusal(
      403,
      "The demo answers only on its own machine. Open it at 127.0.0.1 or localhost.",
    );
  }
  const isOfCrews = matches.length > 0 && matches.every(({ row }) => row.may.includes("crew-lead"));
  const crew = isOfCrews ? await findCrew(people, req) : NOBODY;
  const isTheirs = crew.kind === "crew" && matches.every((match) => isAllowed(crew, match));
  return isTheirs ? crew : { kind: "person", person, isAutomatic: true };
}

function admit(res: Response, who: Who): void {
  const actor: Actor | undefined =
    who.kind === "person"
      ? { personId: who.isAutomatic ? null : who.person.id, personName: who.person.name }
      : undefined;
  Object.assign(res.locals, {
    who,
    actor,
    may: (method: Method, route: RouteName) => mayAsk(askerOf(who), method, route),
  });
}

function isAllowed(who: Who, { row, values }: AccessMatch): boolean {
  if (!row.may.includes(askerOf(who))) return false;
  if (who.kind === "person") return !(who.isAutomatic && THE_DEMO_HAS_NO_ACCOUNT.has(row.route));
  // Open to everybody, or to the crew that the address names.
  return who.kind === "nobody" || row.may.includes("nobody") || who.crewIds.includes(values["id"] ?? "");
}

function refuse(who: Who, matches: readonly AccessMatch[], req: Request, res: Response): void {
  if (who.kind === "person") {
    throw new HttpRefusal(
      403,
      who.isAutomatic
        ? "The demo signs in by itself, so there is no account to look after."
        : `You are signed in as ${who.person.role}, and this is not for your role, so nothing was done. Ask an owner.`,
    );
  }
  if (who.kind === "crew") {
    throw new HttpRefusal(
      403,
      "Your link opens the day sheets of your own crew, and nothing else.",
      "Su enlace abre las hojas del día de su propia cuadrilla y nada más.",
    );
  }
  const isForCrews = matches.every(({ row }) => row.may.includes("crew-lead"));
  if (isForCrews && listCrewTokens(req).length > 0)
    throw new HttpRefusal(403, LINK_IS_VOID.en, LINK_IS_VOID.es);
  res.redirect(303, paths.signIn(pageOf(req)));
}

/** For a crew's phone whose link opens nothing (any more). */
export const LINK_IS_VOID: Text = {
  en: "This link opens nothing any more. It has run out, or the office has made a new one; ask there for it. Reports that still wait on this phone go out when a new link is opened on it.",
  es: "Este enlace ya no abre nada. Se venció o la oficina hizo uno nuevo; pídalo ahí. Los avisos que aún esperan en este teléfono se mandan cuando se abra en él un enlace nuevo.",
};

/** Where to go on after the sign-in: the page that was asked for. After a form, its page, where it has one. */
function pageOf(req: Request): string | undefined {
  if (req.method === "GET") return req.originalUrl === paths.home() ? undefined : req.originalUrl;
  return findAccess("GET", req.path).length > 0 ? req.path : undefined;
}
