/**
 * Homeowners' links: the office makes, renews and takes them back; whoever has one reads the page of that one house.
 * A link that is wrong or void shows nothing but that.
 */
import { Router, type Request, type Response } from "express";
import { buildHomeownerView } from "../board/homeowner-view.js";
import { HOMEOWNER_WORDS } from "../board/homeowner-words.js";
import type { Desk } from "../services/desk.js";
import type { People } from "../services/people.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { listLinkLines, privateLinkRoutes } from "./private-link-routes.js";
import { crewReadingOf, promiseOf } from "./reading-of.js";

const VOID = {
  en: "This link shows nothing (any more). Ask whoever sent it to you for a new one.",
  es: "Este enlace no muestra nada (o ya no). Pida uno nuevo a quien se lo mandó.",
};

/** What a homeowner opens; void as long as there is no company. */
export function houseRoutes(desk: Desk, people: People): Router {
  const router = Router();
  router.get(ROUTES.houseLink, async (req: Request<{ token: string }>, res) => {
    const link = await people.openPrivateLink("house", req.params.token);
    const state = link === undefined || desk.isEmpty ? undefined : desk.current();
    const job = state?.company.jobs.find(({ id }) => id === link?.subject);
    if (state === undefined || job === undefined) throw new HttpRefusal(404, VOID.en, VOID.es);
    const language = languageAsked(req) ?? "en";
    const view = buildHomeownerView(crewReadingOf(state), job, state, language, promiseOf(state));
    res.set("X-Robots-Tag", "noindex");
    renderPage(res, "house", { title: HOMEOWNER_WORDS[language].heading(job.name), view, language });
  });
  return router;
}

/** The office's page of them, with its three changes. */
export function houseLinkRoutes(desk: Desk, people: People): Router {
  const router = Router();
  const show = async (res: Response, fault?: string): Promise<void> => {
    const links = await listLinkLines(people, desk, "house");
    const houses = desk.current().company.jobs.map(({ id, name }) => ({ id, name, link: links.get(id) }));
    renderPage(res, "house-links", { title: "Homeowners' links", view: { houses, fault } });
  };

  router.get(ROUTES.houseLinks, (_req, res) => show(res));
  router.use(
    privateLinkRoutes(people, {
      kind: "house",
      noun: "house",
      list: () => desk.current().company.jobs,
      routes: { make: ROUTES.makeHouseLink, renew: ROUTES.renewHouseLink, revoke: ROUTES.revokeHouseLink },
      made: (name) => ({
        heading: `A link for ${name}`,
        sentences: [
          "Send it to the people who live there: it shows who comes next, on which days, and what is waited for.",
          "Whoever has it can read that. It is not shown again; a new one takes its place whenever you want.",
        ],
      }),
      pathOf: paths.houseLink,
      page: { href: paths.houseLinks(), text: "Back to the homeowners' links" },
      show,
    }),
  );
  return router;
}
