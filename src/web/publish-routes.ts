/**
 * What is published: the page of it with all that has drifted since, and the forms that publish the plan, take the last
 * publish back, and release or keep a day sheet. A form that did nothing comes back with what was typed.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildPublishedView } from "../board/promised-view.js";
import { onlyKey } from "../domain/company-parts.js";
import { parseCivilDate } from "../domain/time.js";
import type { ChangeFailure } from "../services/changes/company-change.js";
import type { Desk } from "../services/desk.js";
import { findWhyFault } from "../services/changes/apply-change.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readReason, readVersion, textOf } from "./form-body.js";
import { toFormFaults, type FormFault } from "./form-faults.js";
import { liveViewFor } from "./live-routes.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { promiseOf, readingOf } from "./reading-of.js";

/** What a form says, whichever it is: typed text and where it goes on. */
interface Returned {
  readonly form: "publish" | "undo" | "release";
  readonly reason: string;
  readonly faults: readonly FormFault[];
}

/** Publishing, its undo, and the sheets that are held. */
export function publishRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = (res: Response, returned?: Returned): void => {
    const state = desk.current();
    const view = {
      ...buildPublishedView(readingOf(state), promiseOf(state), state.today),
      ...publishForms(state),
      version: state.versionOf(onlyKey("published")),
      returned: returned ?? null,
      faults: returned?.faults ?? [],
      back: "",
    };
    const title = returned === undefined ? "Published" : "Published: nothing was done";
    renderPage(res, "published", { title, view, live: liveViewFor(res, state) });
  };
  const showFailed = (res: Response, form: Returned["form"], reason: string, failed: FailedForm): void => {
    const prefix = form === "publish" ? "publish-" : form === "undo" ? "undo-" : "";
    const faults = toFormFaults(failed.faults, ["reason"], prefix);
    show(res.status(failed.status), { form, reason, faults });
  };
  /** Where a form was sent from: a board, or this page. */
  const goOn = (req: Request, res: Response): void => {
    const date = parseCivilDate(textOf(req.body, "back"));
    res.redirect(303, date === undefined ? paths.published() : `${paths.board(date)}#published`);
  };

  router.get(ROUTES.published, (_req, res) => show(res));

  router.post(ROUTES.published, readBody, async (req, res) => {
    const reason = readReason(req.body);
    const planId = numberIn(req.body, "plan");
    if (planId === undefined) {
      showFailed(res, "publish", reason, WITHOUT_VERSION);
      return;
    }
    const published = await desk.publish({ planId, why: reason }, actorOf(res));
    if (published.ok) goOn(req, res);
    else showFailed(res, "publish", reason, toFailedForm(published.error));
  });

  router.post(ROUTES.undoPublish, readBody, async (req, res) => {
    const reason = readReason(req.body);
    const seen = readVersion(req.body);
    const { publication } = desk.current();
    const wrong = findWhyFault(reason);
    const failed =
      seen === undefined
        ? WITHOUT_VERSION
        : wrong !== undefined
          ? { status: 422 as const, faults: [{ path: "reason", sentence: wrong }] }
          : publication?.version === seen
            ? undefined
            : toFailedForm(anotherPublish(publication));
    if (failed !== undefined || seen === undefined) {
      showFailed(res, "undo", reason, failed ?? WITHOUT_VERSION);
      return;
    }
    const undone = await desk.undo(seen, actorOf(res), reason);
    if (undone.ok) goOn(req, res);
    else showFailed(res, "undo", reason, toFailedForm(undone.error));
  });

  router.post(ROUTES.releaseSheet, readBody, async (req, res) => {
    const reason = readReason(req.body);
    const seen = readVersion(req.body);
    const wish = textOf(req.body, "wish");
    if (seen === undefined || (wish !== "release" && wish !== "keep")) {
      showFailed(res, "release", reason, WITHOUT_VERSION);
      return;
    }
    const sheet = { crew: textOf(req.body, "crew"), date: textOf(req.body, "date"), why: reason, seen };
    const kind = wish === "release" ? "sheet-released" : "sheet-kept";
    const made = await desk.make({ kind, ...sheet }, actorOf(res));
    if (made.ok) res.redirect(303, `${paths.published()}#sheets`);
    else showFailed(res, "release", reason, toFailedForm(made.error));
  });

  return router;
}

/** What the forms on the board and on the page carry. */
export function publishForms({ planId, publication }: ReturnType<Desk["current"]>): {
  readonly planId: number;
  /** The publish that can be taken back; null where there is none, or something later depends on it. */
  readonly undo: { readonly version: number; readonly sentence: string } | null;
} {
  const canUndo = publication !== null && publication.isAsMade && publication.kind !== "company-loaded";
  return {
    planId,
    undo: canUndo ? { version: publication.version, sentence: publication.sentence } : null,
  };
}

function numberIn(body: unknown, name: string): number | undefined {
  const text = textOf(body, name);
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

function anotherPublish(
  publication: { readonly personName: string; readonly sentence: string } | null,
): ChangeFailure {
  const since =
    publication === null
      ? "Nothing is published any more."
      : `What is published now is another one, by ${publication.personName}: ${publication.sentence}`;
  return {
    kind: "refused",
    refusal: { kind: "another-publish", sentence: `${since} Nothing was taken back.` },
  };
}
