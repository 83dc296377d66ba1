/**
 * Where open pages listen: one address for people, one for each crew's phone, whose link opens nothing outside /crew.
 */
import { createHash } from "node:crypto";
import { Router, type Request, type RequestHandler, type Response } from "express";
import type { People } from "../services/people.js";
import { findSessionToken, listCrewTokens } from "./cookies.js";
import type { DeskState } from "../services/desk.js";
import { liveStampOf, reportsStampOf, type LiveView } from "./live-stamp.js";
import type { Listener, LiveStreams } from "./live-streams.js";
import { paths, ROUTES } from "./paths.js";
import { whoOf } from "./who.js";

/** Streams of what stands. */
export function liveRoutes(people: People, streams: LiveStreams): Router {
  const router = Router();
  const listen: RequestHandler = (req, res) => {
    if (req.method === "HEAD") res.type("text/event-stream").end();
    else streams.open(listenerOf(people, req, res), res);
  };
  router.get(ROUTES.live, listen);
  router.get(ROUTES.crewLive, listen);
  return router;
}

/** What a page about `crew`, or about the whole company, needs to listen. */
export function liveViewFor(res: Response, state: DeskState, crew?: string): LiveView {
  const isCrews = whoOf(res).kind === "crew" && crew !== undefined;
  const mark: unknown = res.locals["reportsMark"];
  return {
    ...liveStampOf(state),
    address: isCrews ? paths.crewLive(crew) : paths.live(),
    reports: typeof mark === "number" ? reportsStampOf(mark) : "",
  };
}

function listenerOf(people: People, req: Request, res: Response): Listener {
  const who = whoOf(res);
  if (who.kind === "person") {
    const token = findSessionToken(req) ?? "";
    return {
      // Whoever is on this machine may open what she likes.
      key: who.isAutomatic ? `port ${String(req.socket.remotePort)}` : keyOf(token),
      hearsWho: true,
      isStillGood: async () => who.isAutomatic || (await people.session(token, false)) !== undefined,
    };
  }
  const tokens = listCrewTokens(req);
  const crewId = typeof req.params["id"] === "string" ? req.params["id"] : "";
  return {
    key: keyOf([crewId, ...tokens].join(" ")),
    hearsWho: false,
    isStillGood: async () => {
      const links = await Promise.all(tokens.map((token) => people.openPrivateLink("crew", token)));
      return links.some((link) => link?.subject === crewId);
    },
  };
}

/** No token lies about longer than its request. */
function keyOf(token: string): string {
  return createHash("sha256").update(token).digest("base64url");
}
