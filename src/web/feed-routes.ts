/**
 * Calendar feeds: what a crew's calendar asks. An address that is wrong or void is answered with nothing at all.
 */
import { createHash } from "node:crypto";
import { Router, type Request } from "express";
import type { Desk } from "../services/desk.js";
import type { Feeds } from "../services/feeds.js";
import type { People } from "../services/people.js";
import { toCalendarText } from "./calendar-text.js";
import { ROUTES } from "./paths.js";

const ENDING = ".ics";

/** What calendars ask; works before there is a company, and then shows nothing. */
export function feedRoutes(desk: Desk, people: People, feeds: Feeds): Router {
  const router = Router();
  router.get(ROUTES.feed, async (req: Request<{ file: string }>, res) => {
    const { file } = req.params;
    const link = file.endsWith(ENDING)
      ? await people.openPrivateLink("feed", file.slice(0, -ENDING.length))
      : undefined;
    const state = link === undefined || desk.isEmpty ? undefined : desk.current();
    const crew = state?.company.crews.find(({ id }) => id === link?.subject);
    if (state === undefined || crew === undefined) {
      res.status(404).end();
      return;
    }
    const text = toCalendarText(crew, state.company.company.name, await feeds.of(state, crew));
    const tag = createHash("sha256").update(text).digest("base64url").slice(0, 22);
    // Weak, for the same text may be sent packed.
    res.set({ "Cache-Control": "private, no-cache", ETag: `W/"${tag}"` });
    // Not express's own reading: it sends all again to whoever forbids caches on the way.
    if (req.get("if-none-match")?.includes(tag) === true) res.status(304).end();
    else res.type("text/calendar; charset=utf-8").send(text);
  });
  return router;
}
