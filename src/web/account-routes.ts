/**
 * A person's own account: who she is here, and a new password.
 */
import { Router, urlencoded, type Response } from "express";
import { invariant } from "../domain/result.js";
import type { Person } from "../domain/person.js";
import type { People } from "../services/people.js";
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from "../services/people/password-rules.js";
import { setSessionCookie } from "./cookies.js";
import { textOf } from "./form-body.js";
import { readNewPassword, type PasswordFieldFault } from "./new-password-form.js";
import { renderPage } from "./page.js";
import { ROUTES } from "./paths.js";
import { addressOf } from "./sign-in-routes.js";
import { ROLE_WORDS } from "./role-words.js";
import { whoOf } from "./who.js";

/** The account page and the change of the password. */
export function accountRoutes(people: People): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = (res: Response, faults: readonly PasswordFieldFault[], isChanged = false): void => {
    const person = personOf(res);
    const view = {
      name: person.name,
      account: person.account,
      role: person.role,
      roleWords: ROLE_WORDS[person.role],
      shortest: SHORTEST_PASSWORD,
      longest: LONGEST_PASSWORD,
      faults,
      isChanged,
    };
    renderPage(res, "account", {
      title: faults.length > 0 ? "Your account: not changed" : "Your account",
      view,
    });
  };

  router.get(ROUTES.account, (_req, res) => show(res, []));

  router.post(ROUTES.changePassword, readBody, async (req, res) => {
    const { password, faults } = readNewPassword(req.body);
    if (faults.length > 0) {
      show(res.status(422), faults);
      return;
    }
    const changed = await people.changePassword(personOf(res), {
      oldPassword: textOf(req.body, "oldPassword"),
      newPassword: password,
      address: addressOf(req),
    });
    if (changed.ok) {
      setSessionCookie(req, res, changed.value.token);
      show(res, [], true);
      return;
    }
    if (changed.error.kind === "faulty") {
      show(res.status(422), changed.error.faults);
      return;
    }
    const { sentence, retryAfterSeconds } = changed.error.refusal;
    if (retryAfterSeconds === undefined) res.status(409);
    else res.status(429).set("Retry-After", String(retryAfterSeconds));
    show(res, [{ field: "oldPassword", sentence }]);
  });

  return router;
}

function personOf(res: Response): Person {
  const who = whoOf(res);
  invariant(who.kind === "person", "the gate lets only people to their account");
  return who.person;
}
