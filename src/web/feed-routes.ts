/**
 * Calendar feeds: the address that a crew's calendar asks, and the office's buttons that make, renew and take it back.
 * An address that is wrong or void is answered with nothing at all.
 */
import { createHash } from "node:crypto";
import { Router, type Request, type Response } from "express";
import type { Crew } from "../domain/company-schema.js";
import type { Result } from "../domain/result.js";
import type { Desk } from "../services/desk.js";
import type { Feeds } from "../services/feeds.js";
import type { People } from "../services/people.js";
import type { PeopleRefusal } from "../services/people/house.js";
import { actorOf } from "./actor.js";
import { toCalendarText } from "./calendar-text.js";
import { HttpRefusal } from "./http-refusal.js";
import { showMadeLink } from "./link-made.js";
import { paths, ROUTES } from "./paths.js";

const ENDING = ".ics";

/** What calendars ask; works before there is a company, and then shows nothing. */
export function feedRoutes(desk: Desk, people: People, feeds: Feeds): Router {
  const router = Router();
  router.get(ROUTES.feed, async (req: Request<{ file: string }>, res) => {
    const { file } = req.params;
    const crewId = file.endsWith(ENDING)
      ? await people.subjectOfLink("feed", file.slice(0, -ENDING.length))
      : undefined;
    const state = crewId === undefined || desk.isEmpty ? undefined : desk.current();
    const crew = state?.company.crews.find(({ id }) => id === crewId);
    if (state === undefined || crew === undefined) {
      res.status(404).end();
      return;
    }
    const text = toCalendarText(crew, state.company.company.name, await feeds.of(state, crew));
    const tag = createHash("sha256").update(text).digest("base64url").slice(0, 22);
    // Weak, for the same text may be sent packed.
    res.set({ "Cache-Control": "private, no-cache", ETag: `W/"${tag}"` });
    // Not express's own reading: it sends all again to whoever forbids caches on the way.
    if (req.get("if-none-match")?.includes(tag) === true) res.status(304).end();
    else res.type("text/calendar; charset=utf-8").send(text);
  });
  return router;
}

/** The office's side of it, on the page of crew links. */
export function feedLinkRoutes(desk: Desk, people: People): Router {
  const router = Router();
  const crewOf = ({ params }: Request<{ id: string }>): Crew => {
    const crew = desk.current().company.crews.find(({ id }) => id === params.id);
    if (crew === undefined) throw new HttpRefusal(404, `There is no crew "${params.id}".`);
    return crew;
  };
  const showMade = (req: Request, res: Response, crew: Crew, made: Result<string, PeopleRefusal>): void => {
    if (!made.ok) throw new HttpRefusal(409, made.error.sentence);
    showMadeLink(req, res, {
      heading: `A calendar address for ${crew.name}`,
      sentences: [
        "Add it to a calendar as a subscription: it shows the published days of this crew, and nothing else.",
        "Whoever has it can read them. It is not shown again; a new one takes its place whenever you want.",
      ],
      path: paths.feed(made.value),
      back: { href: paths.crewLinks(), text: "Back to the crew links" },
    });
  };

  router.post(ROUTES.makeFeed, async (req: Request<{ id: string }>, res) => {
    const crew = crewOf(req);
    showMade(req, res, crew, await people.makePrivateLink("feed", crew, actorOf(res)));
  });
  router.post(ROUTES.renewFeed, async (req: Request<{ id: string }>, res) => {
    const crew = crewOf(req);
    showMade(req, res, crew, await people.renewPrivateLink("feed", crew, actorOf(res)));
  });
  router.post(ROUTES.revokeFeed, async (req: Request<{ id: string }>, res) => {
    const revoked = await people.revokePrivateLink("feed", crewOf(req), actorOf(res));
    if (!revoked.ok) throw new HttpRefusal(409, revoked.error.sentence);
    res.redirect(303, paths.crewLinks());
  });
  return router;
}
