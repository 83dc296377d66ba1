/**
 * The office's side of private links: made, renewed, taken back, and each told by a line; alike for every kind.
 */
import { Router, type Request, type Response } from "express";
import { civilDateAt, formatDate, minuteOfDate } from "../domain/time.js";
import type { Desk } from "../services/desk.js";
import type { People } from "../services/people.js";
import type { Subject } from "../services/people/private-links.js";
import type { PrivateLink, PrivateLinkKind } from "../store/private-link-store.js";
import { actorOf } from "./actor.js";
import { HttpRefusal } from "./http-refusal.js";
import { showMadeLink } from "./link-made.js";

/** One kind of link, as the office sees it. */
export interface LinkOffice {
  readonly kind: PrivateLinkKind;
  /** What a subject is called where there is none of that id. */
  readonly noun: string;
  /** Whoever and whatever may have one. */
  readonly list: () => readonly Subject[];
  /** Addresses of the three forms, with `:id`. */
  readonly routes: { readonly make: string; readonly renew: string; readonly revoke: string };
  /** What is said beside a link that is shown this once. */
  readonly made: (name: string) => { readonly heading: string; readonly sentences: readonly string[] };
  readonly pathOf: (token: string) => string;
  /** The page that lists them. */
  readonly page: { readonly href: string; readonly text: string };
  /** Shows that page, with what could not be done. */
  readonly show: (res: Response, fault: string) => Promise<void>;
}

/** The forms that make, renew and take back a link of one kind. */
export function privateLinkRoutes(people: People, office: LinkOffice): Router {
  const router = Router();
  const { kind, routes, page } = office;
  const subjectOf = ({ params }: Request<{ id: string }>): Subject => {
    const subject = office.list().find(({ id }) => id === params.id);
    if (subject === undefined) throw new HttpRefusal(404, `There is no ${office.noun} "${params.id}".`);
    return subject;
  };
  const giving =
    (give: "makePrivateLink" | "renewPrivateLink") =>
    async (req: Request<{ id: string }>, res: Response): Promise<void> => {
      const subject = subjectOf(req);
      const given = await people[give](kind, subject, actorOf(res));
      if (given.ok) {
        const words = office.made(subject.name);
        showMadeLink(req, res, { ...words, path: office.pathOf(given.value), back: page });
      } else {
        await office.show(res.status(409), given.error.sentence);
      }
    };

  router.post(routes.make, giving("makePrivateLink"));
  router.post(routes.renew, giving("renewPrivateLink"));
  router.post(routes.revoke, async (req: Request<{ id: string }>, res) => {
    const revoked = await people.revokePrivateLink(kind, subjectOf(req), actorOf(res));
    if (revoked.ok) res.redirect(303, page.href);
    else await office.show(res.status(409), revoked.error.sentence);
  });
  return router;
}

/** The links of a kind that stand, each as a line about it, by subject. Dates by the company's calendar. */
export async function listLinkLines(
  people: People,
  desk: Desk,
  kind: PrivateLinkKind,
): Promise<ReadonlyMap<string, string>> {
  const zone = desk.isEmpty ? "UTC" : desk.current().company.company.timeZone;
  const links = await people.listPrivateLinks(kind);
  return new Map(links.map((link) => [link.subject, lineOf(link, zone)]));
}

function lineOf(link: PrivateLink, zone: string): string {
  const dateOf = (moment: Date): string =>
    formatDate(civilDateAt(minuteOfDate(moment), zone), "d LLLL yyyy", "en-US");
  const end = link.expiresAt === null ? "it is taken back" : dateOf(link.expiresAt);
  const used = link.lastUsedAt === null ? "not used yet" : `last used on ${dateOf(link.lastUsedAt)}`;
  return `ends in …${link.ending}, made by ${link.madeBy} on ${dateOf(link.madeAt)}, good until ${end}, ${used}`;
}
