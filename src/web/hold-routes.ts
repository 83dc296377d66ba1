/**
 * The page of holds and its two changes. A hold that somebody else has changed since the page was made is not lifted: the
 * page comes back with what was typed, above the holds as they are now.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildHoldsView } from "../board/holds-view.js";
import type { Desk } from "../services/desk.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readVersion } from "./form-body.js";
import {
  EMPTY_HOLD_FORM,
  parseHoldForm,
  readHoldForm,
  toFieldFault,
  type FieldFault,
  type HoldForm,
} from "./hold-form.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

/** Holds: list, add, lift. */
export function holdRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = (res: Response, form: HoldForm, faults: readonly FieldFault[]): void => {
    const { company, nowMinute, versionOf } = desk.current();
    const { holds, ...rest } = buildHoldsView(company, nowMinute);
    const versioned = holds.map((hold) => ({ ...hold, version: versionOf(`hold/${hold.id}`) }));
    const view = { ...rest, holds: versioned, form, faults };
    renderPage(res, "holds", { title: faults.length > 0 ? "Holds: not changed" : "Holds", view });
  };
  const showFailed = (res: Response, form: HoldForm, { status, faults }: FailedForm): void =>
    show(res.status(status), form, faults.map(toFieldFault));

  router.get(ROUTES.holds, (_req, res) => show(res, EMPTY_HOLD_FORM, []));

  router.post(ROUTES.holds, readBody, async (req, res) => {
    const form = readHoldForm(req.body);
    const input = parseHoldForm(form);
    if (!input.ok) {
      show(res.status(422), form, input.error);
      return;
    }
    const added = await desk.make({ kind: "hold-added", input: input.value }, actorOf(res));
    if (added.ok) res.redirect(303, paths.holds());
    else showFailed(res, form, toFailedForm(added.error));
  });

  router.post(ROUTES.liftHold, readBody, async (req: Request<{ id: string }>, res) => {
    const seen = readVersion(req.body);
    if (seen === undefined) {
      showFailed(res, EMPTY_HOLD_FORM, WITHOUT_VERSION);
      return;
    }
    const lifted = await desk.make({ kind: "hold-lifted", id: req.params.id, seen }, actorOf(res));
    if (lifted.ok) res.redirect(303, paths.holds());
    else showFailed(res, EMPTY_HOLD_FORM, toFailedForm(lifted.error));
  });

  return router;
}
