/**
 * What a crew reads on a phone: its day sheet, in English or Spanish.
 */
import { Router, type Request, type Response } from "express";
import { buildDaySheetView } from "../board/day-sheet-view.js";
import { toLanguageChoice } from "../board/language-choice.js";
import type { Language } from "../board/spoken-time.js";
import type { CivilDate } from "../domain/time.js";
import type { Desk } from "../services/desk.js";
import { dateIn, dayShown } from "./day-shown.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked } from "./language-asked.js";
import { liveViewFor } from "./live-routes.js";
import { allowKeeping, isDayKept, offlineViewFor } from "./offline-copy.js";
import { renderPageOf } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { crewReadingOf, promiseOf } from "./reading-of.js";

/** Day sheets. A link without a date stays right: it shows the day that matters when it is opened. */
export function crewRoutes(desk: Desk): Router {
  const router = Router();

  const showSheet = (res: Response, id: string, date: CivilDate, asked: Language | undefined): void => {
    const state = desk.current();
    const { company, plan, today } = state;
    const reading = crewReadingOf(state);
    const crew = reading.crews.get(id);
    if (crew === undefined) {
      const names = company.crews.map((other) => other.name).join(", ");
      throw new HttpRefusal(
        404,
        `There is no crew "${id}". The crews are: ${names}.`,
        `No hay ninguna cuadrilla "${id}".`,
      );
    }
    const language = asked ?? crew.language;
    const { thisLanguage } = toLanguageChoice(language, crew.language).asks;
    if (isDayKept(state, date)) allowKeeping(res, state, paths.crewDay(id, date, thisLanguage), language);
    renderPageOf(res, plan, JSON.stringify([id, date, today, language]), "day-sheet", () => {
      const view = buildDaySheetView(reading, crew, date, today, language, promiseOf(state));
      const live = liveViewFor(res, state, id);
      const offline = offlineViewFor(res, state, crew, language, false);
      return { title: `${crew.name}, ${view.title}`, view, language, live, offline };
    });
  };

  router.get(ROUTES.crew, (req: Request<{ id: string }>, res) => {
    showSheet(res, req.params.id, dayShown(desk.current()), languageAsked(req));
  });

  router.get(ROUTES.crewDay, (req: Request<{ id: string; date: string }>, res) => {
    showSheet(res, req.params.id, dateIn(req.params.date), languageAsked(req));
  });

  return router;
}
