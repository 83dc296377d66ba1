/**
 * Reports from site: the page of a crew's day with a form for each thing to say, and where those forms and the phone's
 * queue send them. Whoever reports is answered when it is kept, however long the office then plans.
 */
import { randomUUID } from "node:crypto";
import { Router, urlencoded, type Request, type Response } from "express";
import { buildCrewReportView, type ReturnedReport } from "../board/crew-report-view.js";
import { REPORT_WORDS } from "../board/report-words.js";
import type { Language } from "../board/spoken-time.js";
import type { Crew } from "../domain/company-schema.js";
import { parseCivilDate, type CivilDate } from "../domain/time.js";
import type { Desk } from "../services/desk.js";
import { OTHER_UNDER_KEY } from "../services/report-action.js";
import { actorForCrew, crewAsked } from "./crew-asked.js";
import { dateIn, dayShown } from "./day-shown.js";
import { textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { languageAsked, languageIn } from "./language-asked.js";
import { liveViewFor } from "./live-routes.js";
import { allowKeeping, isDayKept, offlineViewFor } from "./offline-copy.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { buildPhotoForm, listPhotoChoices } from "./photo-form.js";
import { crewReadingOf } from "./reading-of.js";
import type { ReportSources } from "./report-routes.js";
import { parseReportForm, readReportKey, toReturned } from "./report-form.js";
import { officeTimeOf } from "./said-time.js";

interface Shown {
  readonly date: CivilDate;
  readonly language: Language;
  /** The key of the report that has just been taken. */
  readonly takenKey?: string;
  readonly returned?: ReturnedReport;
}

/** A plain form leads to a page, which had better have the plan; a script follows what changes, and only asks whether it is kept. */
const PLAIN_PATIENCE_MS = 2000;

/** What a crew says from site. */
export function crewReportRoutes(
  desk: Desk,
  { reports, ripples }: Pick<ReportSources, "reports" | "ripples">,
): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = async (res: Response, crew: Crew, shown: Shown): Promise<void> => {
    const { date, language, takenKey = "", returned = null } = shown;
    const state = desk.current();
    const view = buildCrewReportView({
      reading: crewReadingOf(state),
      crew,
      date,
      today: state.today,
      language,
      version: state.version,
      reports: await reports.ofCrewDay(crew.id, date, state.company.company.timeZone),
      takenKey,
      returned,
      makeKey: randomUUID,
    });
    const { thisLanguage } = view.asks;
    const photoForm = buildPhotoForm({
      crewId: crew.id,
      date,
      choices: listPhotoChoices(crewReadingOf(state), crew, [state.today, date], language),
      language,
      asks: thisLanguage,
    });
    if (returned === null && takenKey === "" && isDayKept(state, date)) {
      allowKeeping(res, state, paths.crewReport(crew.id, date, thisLanguage), language);
    }
    const title = `${crew.name}, ${returned === null ? view.words.title : view.words.notTaken}: ${view.title}`;
    renderPage(res, "report", {
      title,
      view: { ...view, photoForm },
      language,
      offline: offlineViewFor(res, state, crew, language, true),
      // A form that has come back holds what somebody typed: such a page stays as it is.
      ...(returned === null && { live: liveViewFor(res, state, crew.id) }),
    });
  };

  /** So that the office does not wait for it when it looks. */
  const workOutRipple = async (key: string): Promise<void> => {
    const report = await reports.find(key);
    if (report?.applied === true) await ripples.of(report);
  };

  router.get(ROUTES.crewReport, async (req: Request<{ id: string; date: string }>, res) => {
    const crew = crewAsked(desk.current().company, req.params.id);
    const language = languageAsked(req) ?? crew.language;
    const takenKey = readReportKey({ key: req.query["taken"] });
    await show(res, crew, { date: dateIn(req.params.date), language, takenKey });
  });

  // For whoever opens the address that the forms are sent to, such as after signing in.
  router.get(ROUTES.crewReports, (req: Request<{ id: string }>, res) => {
    const state = desk.current();
    const { id } = crewAsked(state.company, req.params.id);
    res.redirect(303, paths.crewReport(id, state.today, languageAsked(req)));
  });

  router.post(ROUTES.crewReports, readBody, async (req: Request<{ id: string }>, res) => {
    const state = desk.current();
    const crew = crewAsked(state.company, req.params.id);
    const fields: unknown = req.body;
    const asked = languageIn(fields);
    const language = asked ?? crew.language;
    const words = REPORT_WORDS[language];
    const isScript = req.accepts(["html", "json"]) === "json";

    const answerFaulty = async (faults: readonly FormFault[]): Promise<void> => {
      const sentence = faults.map((fault) => fault.sentence).join(" ");
      if (isScript) {
        res.status(422).json({ key: textOf(fields, "key"), state: "faulty", sentence });
      } else {
        const date = parseCivilDate(textOf(fields, "date")) ?? dayShown(state);
        await show(res.status(422), crew, { date, language, returned: toReturned(fields, faults) });
      }
    };

    const input = parseReportForm(fields, officeTimeOf(state), words);
    if (!input.ok) return answerFaulty(input.error);
    const patienceMs = isScript ? 0 : PLAIN_PATIENCE_MS;
    const taken = await desk.report({ ...input.value, crew: crew.id }, actorForCrew(res, crew), patienceMs);
    if (!taken.ok) {
      const { error } = taken;
      if (error.kind !== "refused") throw new Error(`a report is taken or refused, not ${error.kind}`);
      if (error.refusal.kind !== OTHER_UNDER_KEY) throw new HttpRefusal(409, error.refusal.sentence);
      return answerFaulty([{ field: undefined, sentence: words.faults.usedKey }]);
    }
    const { key, date } = input.value;
    if (taken.value === "taken") workOutRipple(key).catch(() => undefined);
    const sentence = taken.value === "taken" ? words.taken : words.takenBefore;
    if (isScript) res.json({ key, state: taken.value, sentence });
    else res.redirect(303, paths.crewReported(crew.id, date, key, asked));
  });

  return router;
}
