/**
 * Before every page that is about a company: where there is none yet, whoever may load one is led to where that is done,
 * and everybody else is told to wait.
 */
import type { RequestHandler } from "express";
import type { Desk } from "../services/desk.js";
import { mayAsk } from "./access.js";
import { HttpRefusal } from "./http-refusal.js";
import { paths } from "./paths.js";
import { askerOf, whoOf } from "./who.js";

/** Lets nothing through to the pages behind it as long as the desk is empty. */
export function needsCompany(desk: Pick<Desk, "isEmpty">): RequestHandler {
  return (_req, res, next) => {
    if (!desk.isEmpty) next();
    else if (mayAsk(askerOf(whoOf(res)), "GET", "companyFile")) res.redirect(303, paths.companyFile());
    else
      throw new HttpRefusal(
        409,
        "There is no company yet. An owner loads the first company file; come back then.",
      );
  };
}
