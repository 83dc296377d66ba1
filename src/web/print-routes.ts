/** Pages to print: a day of all crews with its board, and one crew's day. */
import { Router, type Request } from "express";
import { buildDaySheetView } from "../board/day-sheet-view.js";
import { buildCrewPrintView, buildPrintView, type PrintView } from "../board/print-view.js";
import { longDate } from "../board/spoken-time.js";
import type { Desk } from "../services/desk.js";
import { dateIn } from "./day-shown.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { renderPage } from "./page.js";
import { ROUTES } from "./paths.js";
import { crewReadingOf, promiseOf } from "./reading-of.js";

export function printRoutes(desk: Desk): Router {
  const router = Router();

  router.get(ROUTES.printDay, (req: Request<{ date: string }>, res) => {
    const state = desk.current();
    const date = dateIn(req.params.date);
    const view = buildPrintView(crewReadingOf(state), date, state.today, promiseOf(state));
    renderPage(res, "print", { title: longDate(date, "en"), view, styleRules: listSizes(view) });
  });

  router.get(ROUTES.printCrewDay, (req: Request<{ id: string; date: string }>, res) => {
    const state = desk.current();
    const reading = crewReadingOf(state);
    const { id } = req.params;
    const date = dateIn(req.params.date);
    const crew = reading.crews.get(id);
    if (crew === undefined) {
      throw new HttpRefusal(404, `There is no crew "${id}".`, `No hay ninguna cuadrilla "${id}".`);
    }
    const language = languageAsked(req) ?? crew.language;
    const sheet = buildDaySheetView(reading, crew, date, state.today, language, promiseOf(state));
    const view = buildCrewPrintView(sheet);
    const title = `${crew.name}, ${sheet.title}`;
    renderPage(res, "print", { title, view, language, styleRules: listSizes(view) });
  });

  return router;
}

/** The page's own rules: how large each of its letter pages is set. */
function listSizes({ board, sheets }: PrintView): string {
  const sizes = sheets.map(({ size }, index) => `#sheet-${index}{font-size:${size}pt}`);
  return [...(board === null ? [] : [`#board{font-size:${board.size}pt}`]), ...sizes].join("");
}
