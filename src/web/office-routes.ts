/**
 * What the office reads: the board, the list of houses, the waiting sheet.
 */
import { Router, type Request, type Response } from "express";
import { buildBoardView } from "../board/board-view.js";
import { listJobLines } from "../board/job-view.js";
import { buildMovesView } from "../board/move-view.js";
import { buildBoardPromise } from "../board/promised-view.js";
import { buildWaitingView } from "../board/waiting-view.js";
import { addDays, type CivilDate } from "../domain/time.js";
import type { Desk } from "../services/desk.js";
import { buildBoardStyle } from "./board-style.js";
import { dateIn, dayShown } from "./day-shown.js";
import { liveViewFor } from "./live-routes.js";
import { renderPage, renderPageOf, type PageLocals } from "./page.js";
import { ROUTES } from "./paths.js";
import { buildPlanningView, stampOf } from "./planning-view.js";
import { publishForms } from "./publish-routes.js";
import { promiseOf, readingOf } from "./reading-of.js";

/** Pages for the dispatcher and the owner. */
export function officeRoutes(desk: Desk): Router {
  const router = Router();

  const showBoard = (res: Response, date: CivilDate): void => {
    const state = desk.current();
    const planning = buildPlanningView(state);
    const makeLocals = (): PageLocals => {
      const reading = readingOf(state);
      const promise = buildBoardPromise(reading, promiseOf(state), date);
      const view = {
        ...buildBoardView(reading, date),
        planning,
        promise,
        ...publishForms(state),
        back: date,
        moves: buildMovesView(reading, date, state.nowMinute),
      };
      const live = liveViewFor(res, state);
      return { title: `Board, ${view.title}`, view, styleRules: buildBoardStyle(view), live };
    };
    // How far a search has come is another line every time.
    if (planning === undefined) renderPageOf(res, state.plan, date, "board", makeLocals);
    else renderPage(res, "board", makeLocals());
  };

  router.get(ROUTES.home, (_req, res) => showBoard(res, dayShown(desk.current())));

  router.get(ROUTES.board, (req: Request<{ date: string }>, res) => showBoard(res, dateIn(req.params.date)));

  router.get(ROUTES.planning, (_req, res) => {
    const state = desk.current();
    const line = buildPlanningView(state)?.line ?? null;
    res.set("Cache-Control", "no-store").json({ stamp: stampOf(state), line });
  });

  router.get(ROUTES.jobs, (_req, res) => {
    const state = desk.current();
    const view = { jobs: listJobLines(readingOf(state)) };
    renderPage(res, "jobs", { title: "Houses", view, live: liveViewFor(res, state) });
  });

  router.get(ROUTES.waiting, (_req, res) => {
    const state = desk.current();
    const { plan, today } = state;
    renderPageOf(res, plan, today, "waiting", () => ({
      title: "Waiting sheet",
      view: buildWaitingView(readingOf(state), today, addDays(today, 1)),
      live: liveViewFor(res, state),
    }));
  });

  return router;
}
