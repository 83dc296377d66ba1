/**
 * The page of holds and its two changes. A form that was made before somebody else's change is not acted on: it comes
 * back as it was typed, above the holds as they are now.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildHoldsView } from "../board/holds-view.js";
import type { Desk } from "../services/desk.js";
import {
  EMPTY_HOLD_FORM,
  parseHoldForm,
  readHoldForm,
  readVersion,
  toFieldFault,
  type FieldFault,
  type HoldForm,
} from "./hold-form.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

const STALE: FieldFault = {
  field: undefined,
  sentence:
    "The plan has changed since you opened this page, and nothing was done. Look at the holds as they are now; if yours is still needed, send it again.",
};

/** Holds: list, add, lift. */
export function holdRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = (res: Response, form: HoldForm, faults: readonly FieldFault[]): void => {
    const { company, nowMinute, version } = desk.current();
    const view = { ...buildHoldsView(company, nowMinute), form, faults, version };
    renderPage(res, "holds", { title: faults.length > 0 ? "Holds: not added" : "Holds", view });
  };

  router.get(ROUTES.holds, (_req, res) => show(res, EMPTY_HOLD_FORM, []));

  router.post(ROUTES.holds, readBody, async (req, res) => {
    const form = readHoldForm(req.body);
    if (readVersion(req.body) !== desk.current().version) {
      show(res.status(409), form, [STALE]);
      return;
    }
    const input = parseHoldForm(form);
    if (!input.ok) {
      show(res.status(422), form, input.error);
      return;
    }
    const added = await desk.addHold(input.value);
    if (added.ok) res.redirect(303, paths.holds());
    else show(res.status(422), form, added.error.map(toFieldFault));
  });

  router.post(ROUTES.liftHold, readBody, async (req: Request<{ id: string }>, res) => {
    if (readVersion(req.body) !== desk.current().version) {
      show(res.status(409), EMPTY_HOLD_FORM, [STALE]);
      return;
    }
    const lifted = await desk.liftHold(req.params.id);
    if (lifted.ok) res.redirect(303, paths.holds());
    else show(res.status(409), EMPTY_HOLD_FORM, [{ field: undefined, sentence: lifted.error.sentence }]);
  });

  return router;
}
