/**
 * Homeowners' links: the office makes, renews and takes them back; whoever has one reads the page of that one house.
 * A link that is wrong or void shows nothing but that.
 */
import { Router, type Request, type Response } from "express";
import { buildHomeownerView } from "../board/homeowner-view.js";
import { HOMEOWNER_WORDS } from "../board/homeowner-words.js";
import type { Job } from "../domain/company-schema.js";
import type { Result } from "../domain/result.js";
import { civilDateAt, formatDate, minuteOfDate } from "../domain/time.js";
import type { Desk } from "../services/desk.js";
import type { People } from "../services/people.js";
import type { PeopleRefusal } from "../services/people/house.js";
import { actorOf } from "./actor.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { showMadeLink } from "./link-made.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { crewReadingOf, promiseOf } from "./reading-of.js";

const VOID = {
  en: "This link shows nothing (any more). Ask whoever sent it to you for a new one.",
  es: "Este enlace no muestra nada (o ya no). Pida uno nuevo a quien se lo mandó.",
};

/** What a homeowner opens; void as long as there is no company. */
export function houseRoutes(desk: Desk, people: People): Router {
  const router = Router();
  router.get(ROUTES.houseLink, async (req: Request<{ token: string }>, res) => {
    const jobId = await people.subjectOfLink("house", req.params.token);
    const state = jobId === undefined || desk.isEmpty ? undefined : desk.current();
    const job = state?.company.jobs.find(({ id }) => id === jobId);
    if (state === undefined || job === undefined) throw new HttpRefusal(404, VOID.en, VOID.es);
    const language = languageAsked(req) ?? "en";
    const view = buildHomeownerView(crewReadingOf(state), job, state.today, language, promiseOf(state));
    res.set("X-Robots-Tag", "noindex");
    renderPage(res, "house", { title: HOMEOWNER_WORDS[language].heading(job.name), view, language });
  });
  return router;
}

/** The office's page of them, with its three changes. */
export function houseLinkRoutes(desk: Desk, people: People): Router {
  const router = Router();
  const jobOf = ({ params }: Request<{ id: string }>): Job => {
    const job = desk.current().company.jobs.find(({ id }) => id === params.id);
    if (job === undefined) throw new HttpRefusal(404, `There is no house "${params.id}".`);
    return job;
  };

  const show = async (res: Response, fault: string | undefined): Promise<void> => {
    const links = new Map((await people.listPrivateLinks("house")).map((link) => [link.subject, link]));
    const { company } = desk.current();
    const dateOf = (moment: Date): string =>
      formatDate(civilDateAt(minuteOfDate(moment), company.company.timeZone), "d LLLL yyyy", "en-US");
    const houses = company.jobs.map(({ id, name }) => {
      const link = links.get(id);
      if (link === undefined) return { id, name, link: undefined };
      const used = link.lastUsedAt === null ? "not used yet" : `last used on ${dateOf(link.lastUsedAt)}`;
      return {
        id,
        name,
        link: `ends in …${link.ending}, made by ${link.madeBy} on ${dateOf(link.madeAt)}, ${used}`,
      };
    });
    renderPage(res, "house-links", { title: "Homeowners' links", view: { houses, fault } });
  };

  const showMade = async (
    req: Request,
    res: Response,
    job: Job,
    made: Result<string, PeopleRefusal>,
  ): Promise<void> => {
    if (!made.ok) {
      await show(res.status(409), made.error.sentence);
      return;
    }
    showMadeLink(req, res, {
      heading: `A link for ${job.name}`,
      sentences: [
        "Send it to the people who live there: it shows who comes next, on which days, and what is waited for.",
        "Whoever has it can read that. It is not shown again; a new one takes its place whenever you want.",
      ],
      path: paths.houseLink(made.value),
      back: { href: paths.houseLinks(), text: "Back to the homeowners' links" },
    });
  };

  router.get(ROUTES.houseLinks, (_req, res) => show(res, undefined));
  router.post(ROUTES.makeHouseLink, async (req: Request<{ id: string }>, res) => {
    const job = jobOf(req);
    await showMade(req, res, job, await people.makePrivateLink("house", job, actorOf(res)));
  });
  router.post(ROUTES.renewHouseLink, async (req: Request<{ id: string }>, res) => {
    const job = jobOf(req);
    await showMade(req, res, job, await people.renewPrivateLink("house", job, actorOf(res)));
  });
  router.post(ROUTES.revokeHouseLink, async (req: Request<{ id: string }>, res) => {
    const revoked = await people.revokePrivateLink("house", jobOf(req), actorOf(res));
    if (revoked.ok) res.redirect(303, paths.houseLinks());
    else await show(res.status(409), revoked.error.sentence);
  });
  return router;
}
