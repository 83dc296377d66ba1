/**
 * The owner's page of people: who may come in, as what, and since when not any more. Links are shown once, in the answer
 * to the form that made them: nowhere are they kept as they are.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { invariant, type Result } from "../domain/result.js";
import { parseRole, ROLES, type Actor, type Person } from "../domain/person.js";
import type { People } from "../services/people.js";
import type { PeopleChange } from "../store/people-change-store.js";
import type { PeopleFault, PeopleRefusal } from "../services/people/house.js";
import type { Invited, PersonSeen } from "../services/people/management.js";
import { actorOf } from "./actor.js";
import { readVersion, textOf } from "./form-body.js";
import { HttpRefusal } from "./http-refusal.js";
import { showMadeLink } from "./link-made.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { ROLE_WORDS } from "./role-words.js";

interface PageState {
  readonly invite?: { readonly name: string; readonly account: string; readonly role: string };
  /** What was typed at a person, where it comes back. */
  readonly typed?: { readonly personId: number; readonly role: string; readonly why: string };
  readonly faults: readonly { readonly field: PeopleFault["field"] | undefined; readonly sentence: string }[];
}

/** The newest of the record of people that the page shows; all of it is in a backup. */
const MOST_CHANGES = 50;

type Change = (seen: PersonSeen, by: Actor) => Promise<Result<unknown, PeopleRefusal>>;

/** People: list, invite, change the role, disable, enable, reset the password. */
export function peopleRoutes(people: People): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = async (res: Response, state: PageState): Promise<void> => {
    const changes = await people.listChanges({ most: MOST_CHANGES });
    const view = {
      people: (await people.list()).map(toPersonView),
      changes: changes.map(toChangeView),
      roles: ROLES.map((role) => ({ role, words: ROLE_WORDS[role] })),
      invite: state.invite ?? { name: "", account: "", role: "dispatcher" },
      typed: state.typed,
      faults: state.faults,
    };
    renderPage(res, "people", { title: state.faults.length > 0 ? "People: not changed" : "People", view });
  };

  const showLink = (req: Request, res: Response, { person, token }: Invited): void => {
    showMadeLink(req, res, {
      heading: `A link for ${person.name}`,
      sentences: [
        `Give it to ${person.name} alone: whoever opens it sets the password of the account "${person.account}".`,
        `It is good once, for ${person.hasPassword ? "one day" : "seven days"}, and it is not shown again.`,
      ],
      path: paths.invitation(token),
      back: { href: paths.people(), text: "Back to the people" },
    });
  };

  /** A change of one person: 303 back to the list, or the list with what stands in the way. */
  const onPerson = async (req: Request<{ id: string }>, res: Response, change: Change): Promise<void> => {
    const seen = readSeen(req);
    const changed = await change(seen, actorOf(res));
    if (changed.ok) {
      res.redirect(303, paths.people());
      return;
    }
    await showRefused(req, res, seen, changed.error);
  };

  const showRefused = (
    req: Request<{ id: string }>,
    res: Response,
    seen: PersonSeen,
    refusal: PeopleRefusal,
  ): Promise<void> =>
    show(res.status(refusal.kind === "unknown" ? 404 : 409), {
      typed: { personId: seen.personId, role: textOf(req.body, "role"), why: seen.why },
      faults: [{ field: undefined, sentence: refusal.sentence }],
    });

  router.get(ROUTES.people, (_req, res) => show(res, { faults: [] }));

  router.post(ROUTES.people, readBody, async (req, res) => {
    const form = {
      name: textOf(req.body, "name"),
      account: textOf(req.body, "account"),
      role: textOf(req.body, "role"),
    };
    const invited = await people.invite({ ...form, role: parseRole(form.role) }, actorOf(res));
    if (invited.ok) {
      showLink(req, res, invited.value);
      return;
    }
    invariant(
      invited.error.kind === "faulty",
      "nothing but what was typed stands in the way of an invitation",
    );
    await show(res.status(422), { invite: form, faults: invited.error.faults });
  });

  router.post(ROUTES.changeRole, readBody, async (req: Request<{ id: string }>, res) => {
    const role = parseRole(textOf(req.body, "role"));
    if (role === undefined) {
      const seen = readSeen(req);
      await show(res.status(422), {
        typed: { personId: seen.personId, role: "", why: seen.why },
        faults: [
          { field: undefined, sentence: "Choose what the person may do: owner, dispatcher or viewer." },
        ],
      });
      return;
    }
    await onPerson(req, res, (seen, by) => people.changeRole(seen, role, by));
  });

  router.post(ROUTES.disablePerson, readBody, (req: Request<{ id: string }>, res) =>
    onPerson(req, res, (seen, by) => people.disable(seen, by)),
  );

  router.post(ROUTES.enablePerson, readBody, (req: Request<{ id: string }>, res) =>
    onPerson(req, res, (seen, by) => people.enable(seen, by)),
  );

  router.post(ROUTES.resetLink, readBody, async (req: Request<{ id: string }>, res) => {
    const seen = readSeen(req);
    const made = await people.makeResetLink(seen, actorOf(res));
    if (made.ok) showLink(req, res, made.value);
    else await showRefused(req, res, seen, made.error);
  });

  return router;
}

function readSeen(req: Request<{ id: string }>): PersonSeen {
  const { id } = req.params;
  if (!/^\d{1,15}$/.test(id)) throw new HttpRefusal(404, `There is no person "${id}".`);
  // A form without a version was made for nothing that stands: it is stale.
  return { personId: Number(id), version: readVersion(req.body) ?? 0, why: textOf(req.body, "why") };
}

/** UTC: people may be looked after before there is a company with a zone of its own. */
function toChangeView({ madeAt, personName, sentence, why }: PeopleChange) {
  return { when: `${madeAt.toISOString().slice(0, 16).replace("T", " ")} UTC`, personName, sentence, why };
}

function toPersonView(person: Person) {
  const invited = person.hasPassword ? "can sign in" : "invited, and has not set a password yet";
  return {
    id: person.id,
    name: person.name,
    account: person.account,
    role: person.role,
    version: person.version,
    isDisabled: person.isDisabled,
    hasPassword: person.hasPassword,
    state: person.isDisabled ? "disabled" : invited,
  };
}
