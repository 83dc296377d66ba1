/**
 * Links for crew leads: the office makes, renews and takes them back; a crew's phone opens one and is led on to the crew's
 * day sheet, so that the token stays neither in the address bar nor in the history.
 */
import { Router, type Request, type Response } from "express";
import { civilDateAt, formatDate, minuteOfDate } from "../domain/time.js";
import type { Result } from "../domain/result.js";
import type { Desk } from "../services/desk.js";
import type { People } from "../services/people.js";
import type { CrewNamed } from "../services/people/crew-links.js";
import type { PeopleRefusal } from "../services/people/house.js";
import { actorOf } from "./actor.js";
import { setCrewCookie } from "./cookies.js";
import { LINK_IS_VOID } from "./gate.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { showMadeLink } from "./link-made.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

/** The page of crew links with its three changes, and what a link opens. */
export function crewLinkRoutes(desk: Desk, people: People): Router {
  const router = Router();

  const listCrews = (): readonly CrewNamed[] => (desk.isEmpty ? [] : desk.current().company.crews);
  const crewOf = (req: Request<{ id: string }>): CrewNamed => {
    const crew = listCrews().find(({ id }) => id === req.params.id);
    if (crew === undefined) throw new HttpRefusal(404, `There is no crew "${req.params.id}".`);
    return crew;
  };

  const show = async (res: Response, fault: string | undefined): Promise<void> => {
    const links = new Map((await people.listCrewLinks()).map((link) => [link.crewId, link]));
    const feeds = new Map((await people.listPrivateLinks("feed")).map((link) => [link.subject, link]));
    const now = desk.isEmpty ? undefined : desk.current();
    const zone = now?.company.company.timeZone ?? "UTC";
    const dateOf = (moment: Date): string =>
      formatDate(civilDateAt(minuteOfDate(moment), zone), "d LLLL yyyy", "en-US");
    const crews = listCrews().map(({ id, name }) => {
      const feed = feeds.get(id);
      const feedUsed =
        feed?.lastUsedAt == null ? "not asked yet" : `last asked on ${dateOf(feed.lastUsedAt)}`;
      const feedLine =
        feed &&
        `ends in …${feed.ending}, made by ${feed.madeBy} on ${dateOf(feed.madeAt)}, good until it is taken back, ${feedUsed}`;
      const link = links.get(id);
      if (link === undefined) return { id, name, link: undefined, feed: feedLine };
      const used = link.lastUsedAt === undefined ? "not used yet" : `last used on ${dateOf(link.lastUsedAt)}`;
      const line = `ends in …${link.ending}, made by ${link.madeBy} on ${dateOf(link.madeAt)}, good until ${dateOf(link.expiresAt)}, ${used}`;
      return { id, name, link: line, feed: feedLine };
    });
    renderPage(res, "crew-links", { title: "Crew links", view: { crews, fault } });
  };

  const showMade = async (
    req: Request,
    res: Response,
    crew: CrewNamed,
    made: Result<string, PeopleRefusal>,
  ): Promise<void> => {
    if (!made.ok) {
      await show(res.status(409), made.error.sentence);
      return;
    }
    showMadeLink(req, res, {
      heading: `A link for ${crew.name}`,
      sentences: [
        `Send it to the lead of ${crew.name}: on that phone it opens the crew's day sheets, and nothing else.`,
        "Whoever has it can read them. It is not shown again; a new one takes its place whenever you want.",
      ],
      path: paths.crewLink(made.value),
      back: { href: paths.crewLinks(), text: "Back to the crew links" },
    });
  };

  router.get(ROUTES.crewLinks, (_req, res) => show(res, undefined));

  router.post(ROUTES.makeCrewLink, async (req: Request<{ id: string }>, res) => {
    const crew = crewOf(req);
    await showMade(req, res, crew, await people.makeCrewLink(crew, actorOf(res)));
  });

  router.post(ROUTES.renewCrewLink, async (req: Request<{ id: string }>, res) => {
    const crew = crewOf(req);
    await showMade(req, res, crew, await people.renewCrewLink(crew, actorOf(res)));
  });

  router.post(ROUTES.revokeCrewLink, async (req: Request<{ id: string }>, res) => {
    const revoked = await people.revokeCrewLink(crewOf(req), actorOf(res));
    if (revoked.ok) res.redirect(303, paths.crewLinks());
    else await show(res.status(409), revoked.error.sentence);
  });

  router.get(ROUTES.crewLink, async (req: Request<{ token: string }>, res) => {
    const { token } = req.params;
    const link = await people.crewOfLink(token);
    const isThere = listCrews().some(({ id }) => id === link?.crewId);
    if (link === undefined || !isThere) throw new HttpRefusal(404, LINK_IS_VOID.en, LINK_IS_VOID.es);
    setCrewCookie(req, res, { ...link, token });
    res.redirect(303, paths.crew(link.crewId, languageAsked(req)));
  });

  return router;
}
