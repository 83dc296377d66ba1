/**
 * What a one-time link opens: setting a password, for the first owner with a name and an account. Looking at it uses
 * nothing up, for mail programs and browsers look at links before people do.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import type { People } from "../services/people.js";
import type { Invitation } from "../services/people/invitations.js";
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from "../services/people/password-rules.js";
import { findSessionToken, setSessionCookie } from "./cookies.js";
import { textOf } from "./form-body.js";
import { HttpRefusal } from "./http-refusal.js";
import { readNewPassword, type PasswordFieldFault } from "./new-password-form.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

const TITLES = {
  "first-owner": "Become the owner",
  welcome: "Welcome",
  reset: "A new password",
} as const satisfies Record<Invitation["purpose"], string>;

const GONE =
  "This link is not good any more: it has been used, it has run out, or a newer one has taken its place. Ask for a new one.";

/** The page behind a one-time link. */
export function invitationRoutes(people: People): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = async (
    res: Response,
    token: string,
    form: { readonly name: string; readonly account: string },
    faults: readonly PasswordFieldFault[],
  ): Promise<void> => {
    const invitation = await people.findInvitation(token);
    if (invitation === undefined) throw new HttpRefusal(404, GONE);
    const view = {
      heading: TITLES[invitation.purpose],
      purpose: invitation.purpose,
      isFirstOwner: invitation.person === undefined,
      name: invitation.person?.name ?? form.name,
      account: invitation.person?.account ?? form.account,
      role: invitation.person?.role ?? "owner",
      action: paths.invitation(token),
      shortest: SHORTEST_PASSWORD,
      longest: LONGEST_PASSWORD,
      faults,
    };
    renderPage(res, "invitation", { title: view.heading, view });
  };

  router.get(ROUTES.invitation, (req: Request<{ token: string }>, res) =>
    show(res, req.params.token, { name: "", account: "" }, []),
  );

  router.post(ROUTES.invitation, readBody, async (req: Request<{ token: string }>, res) => {
    const { token } = req.params;
    const form = { name: textOf(req.body, "name"), account: textOf(req.body, "account") };
    const { password, faults } = readNewPassword(req.body);
    if (faults.length > 0) {
      await show(res.status(422), token, form, faults);
      return;
    }
    const redeemed = await people.redeem(token, { ...form, password, tokenBefore: findSessionToken(req) });
    if (redeemed.ok) {
      setSessionCookie(req, res, redeemed.value.token);
      res.redirect(303, paths.home());
    } else if (redeemed.error.kind === "faulty") {
      await show(res.status(422), token, form, redeemed.error.faults);
    } else throw new HttpRefusal(404, redeemed.error.refusal.sentence);
  });

  return router;
}
