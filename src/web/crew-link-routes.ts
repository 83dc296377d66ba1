/**
 * Links for crew leads, and addresses for their calendars: the office makes, renews and takes them back; a crew's phone
 * opens a link and is led on to the crew's day sheet, so that the token stays neither in the address bar nor in the history.
 */
import { Router, type Request, type Response } from "express";
import type { Desk } from "../services/desk.js";
import type { People } from "../services/people.js";
import type { Subject } from "../services/people/private-links.js";
import { setCrewCookie } from "./cookies.js";
import { LINK_IS_VOID } from "./gate.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { listLinkLines, privateLinkRoutes, type LinkOffice } from "./private-link-routes.js";

/** The page of crew links and calendar addresses with its changes, and what a link opens. */
export function crewLinkRoutes(desk: Desk, people: People): Router {
  const router = Router();

  const listCrews = (): readonly Subject[] => (desk.isEmpty ? [] : desk.current().company.crews);

  const show = async (res: Response, fault?: string): Promise<void> => {
    const links = await listLinkLines(people, desk, "crew");
    const feeds = await listLinkLines(people, desk, "feed");
    const crews = listCrews().map(({ id, name }) => ({
      id,
      name,
      link: links.get(id),
      feed: feeds.get(id),
    }));
    renderPage(res, "crew-links", { title: "Crew links", view: { crews, fault } });
  };
  const office = {
    noun: "crew",
    list: listCrews,
    page: { href: paths.crewLinks(), text: "Back to the crew links" },
    show,
  } satisfies Partial<LinkOffice>;

  router.get(ROUTES.crewLinks, (_req, res) => show(res));

  router.use(
    privateLinkRoutes(people, {
      ...office,
      kind: "crew",
      routes: { make: ROUTES.makeCrewLink, renew: ROUTES.renewCrewLink, revoke: ROUTES.revokeCrewLink },
      made: (name) => ({
        heading: `A link for ${name}`,
        sentences: [
          `Send it to the lead of ${name}: on that phone it opens the crew's day sheets, and nothing else.`,
          "Whoever has it can read them. It is not shown again; a new one takes its place whenever you want.",
        ],
      }),
      pathOf: paths.crewLink,
    }),
    privateLinkRoutes(people, {
      ...office,
      kind: "feed",
      routes: { make: ROUTES.makeFeed, renew: ROUTES.renewFeed, revoke: ROUTES.revokeFeed },
      made: (name) => ({
        heading: `A calendar address for ${name}`,
        sentences: [
          "Add it to a calendar as a subscription: it shows the published days of this crew, and nothing else.",
          "Whoever has it can read them. It is not shown again; a new one takes its place whenever you want.",
        ],
      }),
      pathOf: paths.feed,
    }),
  );

  router.get(ROUTES.crewLink, async (req: Request<{ token: string }>, res) => {
    const { token } = req.params;
    const link = await people.openPrivateLink("crew", token);
    const crew = listCrews().find(({ id }) => id === link?.subject);
    if (link === undefined || crew === undefined) {
      throw new HttpRefusal(404, LINK_IS_VOID.en, LINK_IS_VOID.es);
    }
    setCrewCookie(req, res, { crewId: crew.id, token, expiresAt: link.expiresAt });
    res.redirect(303, paths.crew(crew.id, languageAsked(req)));
  });

  return router;
}
