/**
 * Coming in and going out: the sign-in form, the two ways to sign out.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import type { People } from "../services/people.js";
import { clearSessionCookie, findSessionToken, setSessionCookie } from "./cookies.js";
import { textOf } from "./form-body.js";
import { toNextPage } from "./next-page.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { whoOf } from "./who.js";

interface SignInForm {
  readonly account: string;
  readonly next: string;
}

/** Sign in, sign out, sign out everywhere. */
export function signInRoutes(people: People): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = (res: Response, form: SignInForm, fault: string | undefined): void => {
    const title = fault === undefined ? "Sign in" : "Not signed in";
    renderPage(res, "sign-in", { title, view: { form, fault } });
  };

  router.get(ROUTES.signIn, (req, res) => {
    const next = toNextPage(req.query["next"]);
    if (whoOf(res).kind === "person") res.redirect(303, next);
    else show(res, { account: "", next }, undefined);
  });

  router.post(ROUTES.signIn, readBody, async (req, res) => {
    const form = { account: textOf(req.body, "account"), next: toNextPage(textOf(req.body, "next")) };
    const signedIn = await people.signIn({
      account: form.account,
      password: textOf(req.body, "password"),
      address: addressOf(req),
      tokenBefore: findSessionToken(req),
    });
    if (signedIn.ok) {
      setSessionCookie(req, res, signedIn.value.token);
      res.redirect(303, form.next);
      return;
    }
    const { sentence, retryAfterSeconds } = signedIn.error;
    if (retryAfterSeconds === undefined) res.status(422);
    else res.status(429).set("Retry-After", String(retryAfterSeconds));
    show(res, form, sentence);
  });

  router.post(ROUTES.signOut, async (req, res) => {
    await people.signOut(findSessionToken(req) ?? "");
    clearSessionCookie(req, res);
    res.redirect(303, paths.signIn());
  });

  router.post(ROUTES.signOutEverywhere, async (req, res) => {
    const who = whoOf(res);
    if (who.kind === "person") await people.signOutEverywhere(who.person);
    clearSessionCookie(req, res);
    res.redirect(303, paths.signIn());
  });

  return router;
}

/** Where a request comes from: the other end of the connection, or what a trusted proxy says. */
export function addressOf(req: Request): string {
  return req.ip ?? "unknown";
}
