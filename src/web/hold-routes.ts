/**
 * The page of holds, on which they are added and lifted, and the page on which one is changed. What somebody else has
 * changed since the page was made stays: the page comes back with what was typed, above the holds as they are now.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildHoldsView } from "../board/holds-view.js";
import type { Desk } from "../services/desk.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readReason, readVersion } from "./form-body.js";
import {
  EMPTY_HOLD_FORM,
  HOLD_FIELDS,
  parseHoldForm,
  readHoldForm,
  toHoldForm,
  type HoldForm,
} from "./hold-form.js";
import { toFormFaults, type FormFault } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { idIn } from "./id-in-path.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

/** Holds: list, add, change, lift. */
export function holdRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = (res: Response, form: HoldForm, faults: readonly FormFault[]): void => {
    const { company, nowMinute, versionOf } = desk.current();
    const { holds, ...rest } = buildHoldsView(company, nowMinute);
    const versioned = holds.map((hold) => ({ ...hold, version: versionOf(`hold/${hold.id}`) }));
    const view = { ...rest, holds: versioned, form, faults };
    renderPage(res, "holds", { title: faults.length > 0 ? "Holds: not changed" : "Holds", view });
  };
  const showFailed = (res: Response, form: HoldForm, { status, faults }: FailedForm): void =>
    show(res.status(status), form, toFormFaults(faults, HOLD_FIELDS));

  const showOne = (
    res: Response,
    id: string,
    returned: {
      readonly form: HoldForm;
      readonly reason: string;
      readonly faults: readonly FormFault[];
    } | null,
  ): void => {
    const { company, nowMinute, versionOf } = desk.current();
    const hold = company.holds.find((candidate) => candidate.id === id);
    const { holds, trades, jobs } = buildHoldsView(company, nowMinute);
    const standing = holds.find((view) => view.id === id);
    if (hold === undefined || standing === undefined) {
      // Lifted while the form was open: what was typed stands where a hold can be added.
      if (returned !== null) show(res, returned.form, returned.faults);
      else
        throw new HttpRefusal(
          404,
          `There is no hold "${id}". It may have been lifted; look at the list of holds.`,
        );
      return;
    }
    const faults = returned?.faults ?? [];
    const form = returned?.form ?? toHoldForm(hold, company.company.timeZone);
    const view = {
      id,
      version: versionOf(`hold/${id}`),
      standing,
      trades,
      jobs,
      form: { ...form, reason: returned?.reason ?? "" },
      faults,
    };
    renderPage(res, "hold", {
      title: faults.length > 0 ? "Change a hold: not changed" : "Change a hold",
      view,
    });
  };

  router.get(ROUTES.changeHold, (req: Request<{ id: string }>, res) =>
    showOne(res, idIn(req.params.id), null),
  );

  router.post(ROUTES.changeHold, readBody, async (req: Request<{ id: string }>, res) => {
    const id = idIn(req.params.id);
    const [form, reason, seen] = [readHoldForm(req.body), readReason(req.body), readVersion(req.body)];
    const showFailedOne = (status: number, faults: readonly FormFault[]): void =>
      showOne(res.status(status), id, { form, reason, faults });
    const input = parseHoldForm(form);
    if (!input.ok) {
      showFailedOne(422, input.error);
      return;
    }
    if (seen === undefined) {
      showFailedOne(WITHOUT_VERSION.status, toFormFaults(WITHOUT_VERSION.faults, HOLD_FIELDS));
      return;
    }
    const change = { kind: "hold-changed", id, input: input.value, why: reason, seen } as const;
    const changed = await desk.make(change, actorOf(res));
    if (changed.ok) {
      res.redirect(303, paths.holds());
      return;
    }
    const failed = toFailedForm(changed.error);
    showFailedOne(failed.status, toFormFaults(failed.faults, HOLD_FIELDS));
  });

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
    const lifted = await desk.make(
      { kind: "hold-lifted", id: idIn(req.params.id), why: readReason(req.body), seen },
      actorOf(res),
    );
    if (lifted.ok) res.redirect(303, paths.holds());
    else showFailed(res, EMPTY_HOLD_FORM, toFailedForm(lifted.error));
  });

  return router;
}
