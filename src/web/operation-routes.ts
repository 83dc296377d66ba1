/**
 * For whoever looks after the server: is the process alive, can it serve people, and its figures. Alive and ready say
 * nothing of the company; the figures are for the machine itself alone.
 */
import { Router, type Request } from "express";
import { HttpRefusal } from "./http-refusal.js";
import type { Metrics } from "./metrics.js";
import { ROUTES } from "./paths.js";

const OWN_ADDRESSES: ReadonlySet<string> = new Set(["127.0.0.1", "::1", "::ffff:127.0.0.1"]);

/** Alive, ready, figures. `isReady` says whether the database answers. */
export function operationRoutes(isReady: () => Promise<boolean>, metrics: Metrics): Router {
  const router = Router();
  router.get(ROUTES.health, (_req, res) => {
    res.type("text/plain").send("ok\n");
  });
  router.get(ROUTES.ready, async (_req, res) => {
    const ready = await isReady();
    res
      .status(ready ? 200 : 503)
      .type("text/plain")
      .send(ready ? "ready\n" : "the database does not answer\n");
  });
  router.get(ROUTES.metrics, (req, res, next) => {
    if (!isFromHere(req)) {
      throw new HttpRefusal(404, `There is no page at ${req.path}.`);
    }
    return metrics.handler(req, res, next);
  });
  return router;
}

/** From this machine, and not passed on by a proxy for somebody else. */
function isFromHere(req: Request): boolean {
  return OWN_ADDRESSES.has(req.socket.remoteAddress ?? "") && req.get("x-forwarded-for") === undefined;
}
