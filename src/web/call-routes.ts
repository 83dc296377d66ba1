/** The page of calls to make, on which each is ticked off when it has been made, and unticked where it has not. */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildCallsView } from "../board/calls-view.js";
import { dayAndClock } from "../board/spoken-time.js";
import { minuteOfDate } from "../domain/time.js";
import type { Calls } from "../services/calls.js";
import type { Desk } from "../services/desk.js";
import type { TickFailure } from "../store/call-store.js";
import { actorOf } from "./actor.js";
import { textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { liveViewFor } from "./live-routes.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

/** Calls on one page; made ones come last, so that open ones are all there in any office. */
const MOST_CALLS = 300;

/** Calls to make. */
export function callRoutes(desk: Desk, calls: Calls): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = async (
    res: Response,
    version: number | undefined,
    faults: readonly FormFault[] = [],
  ): Promise<void> => {
    const state = desk.current();
    const list = await calls.list(MOST_CALLS, version);
    const view = {
      ...buildCallsView(list, state.company.company.timeZone),
      chosen: version ?? null,
      faults,
    };
    const title = faults.length > 0 ? "Calls to make: not ticked" : "Calls to make";
    renderPage(res, "calls", { title, view, live: liveViewFor(res, state) });
  };

  router.get(ROUTES.calls, (req, res) => show(res, versionIn(req.query["publish"])));

  const set =
    (isMade: boolean) =>
    async (req: Request<{ call: string }>, res: Response): Promise<void> => {
      const id = idOf(req.params.call);
      const version = versionIn(textOf(req.body, "publish"));
      const done = await (isMade ? calls.tick(id, actorOf(res)) : calls.untick(id));
      if (done.ok) {
        res.redirect(303, `${paths.calls(version)}#call-${id}`);
        return;
      }
      if (done.error.kind === "no-such-call") throw noSuchCall(req.params.call);
      const zone = desk.current().company.company.timeZone;
      await show(res.status(409), version, [{ field: `call-${id}`, sentence: sayFailure(done.error, zone) }]);
    };

  router.post(ROUTES.tickCall, readBody, set(true));
  router.post(ROUTES.untickCall, readBody, set(false));

  return router;
}

function versionIn(text: unknown): number | undefined {
  return typeof text === "string" && /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

function idOf(text: string): number {
  if (/^\d{1,15}$/.test(text)) return Number(text);
  throw noSuchCall(text);
}

function noSuchCall(text: string): HttpRefusal {
  return new HttpRefusal(404, `There is no call "${text}". The page of calls lists them all.`);
}

function sayFailure(failure: Exclude<TickFailure, { kind: "no-such-call" }>, zone: string): string {
  const { call } = failure;
  switch (failure.kind) {
    case "withdrawn":
      return `The call to ${call.name} is needless by now: what it was about has been taken back.`;
    case "ticked-already": {
      const when = call.tickedAt === null ? "" : ` ${dayAndClock(minuteOfDate(call.tickedAt), zone, "en")}`;
      return `The call to ${call.name} has been made already:${when} by ${call.tickedBy ?? "somebody"}.`;
    }
    case "not-ticked":
      return `The call to ${call.name} is open already.`;
  }
}
