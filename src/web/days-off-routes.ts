/** The crews with their days off, and the page of one crew on which days off are added and taken away. */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildCrewOffView, listCrewLines } from "../board/crews-view.js";
import type { CompanyChange } from "../services/changes/company-change.js";
import type { Desk } from "../services/desk.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readReason, readVersion, textOf } from "./form-body.js";
import { toFormFaults, type FormFault } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { idIn } from "./id-in-path.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

interface DayOffForm {
  readonly from: string;
  readonly to: string;
  readonly why: string;
}

const EMPTY: DayOffForm = { from: "", to: "", why: "" };
const FIELDS = ["from", "to", "why"] as const;

/** Crews: list, and the days off of one. */
export function daysOffRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = (res: Response, id: string, form: DayOffForm, faults: readonly FormFault[]): void => {
    const { company, today, versionOf } = desk.current();
    const crew = company.crews.find((candidate) => candidate.id === idIn(id));
    if (crew === undefined) {
      const [fault] = faults;
      const names = company.crews.map(({ name }) => name).join(", ");
      throw new HttpRefusal(
        fault === undefined ? 404 : 409,
        fault?.sentence ?? `There is no crew "${id}". The crews are: ${names}.`,
      );
    }
    const title = `Days off of ${crew.name}`;
    const view = { ...buildCrewOffView(crew, today), version: versionOf(`crew/${id}`), form, faults };
    renderPage(res, "days-off", { title: faults.length > 0 ? `${title}: not changed` : title, view });
  };

  const make = async (
    req: Request<{ id: string }>,
    res: Response,
    change: CompanyChange,
    form: DayOffForm,
  ): Promise<void> => {
    const { id } = req.params;
    const showFailed = ({ status, faults }: FailedForm): void =>
      show(res.status(status), id, form, toFormFaults(faults, FIELDS));
    const seen = readVersion(req.body);
    if (seen === undefined) {
      showFailed(WITHOUT_VERSION);
      return;
    }
    const made = await desk.make({ ...change, seen }, actorOf(res));
    if (made.ok) res.redirect(303, paths.daysOff(id));
    else showFailed(toFailedForm(made.error));
  };

  const showCrews = (res: Response, faults: readonly { readonly sentence: string }[]): void => {
    const { company, today, versionOf } = desk.current();
    const lines = listCrewLines(company, today);
    const crews = lines.map((line) => ({ ...line, version: versionOf(`crew/${line.id}`) }));
    const view = { crews, faults };
    renderPage(res, "crews", { title: faults.length > 0 ? "Crews: not changed" : "Crews", view });
  };

  router.get(ROUTES.crews, (_req, res) => showCrews(res, []));

  router.post(ROUTES.crewLanguage, readBody, async (req: Request<{ id: string }>, res) => {
    const crew = idIn(req.params.id);
    const language = textOf(req.body, "language");
    const seen = readVersion(req.body);
    if (language !== "en" && language !== "es") {
      showCrews(res.status(422), [{ sentence: "Say whether the crew reads English or Spanish." }]);
    } else if (seen === undefined) {
      showCrews(res.status(WITHOUT_VERSION.status), WITHOUT_VERSION.faults);
    } else {
      const made = await desk.make({ kind: "crew-language", crew, language, seen }, actorOf(res));
      if (made.ok) {
        res.redirect(303, paths.crews());
        return;
      }
      const { status, faults } = toFailedForm(made.error);
      showCrews(res.status(status), faults);
    }
  });

  router.get(ROUTES.daysOff, (req: Request<{ id: string }>, res) => show(res, req.params.id, EMPTY, []));

  router.post(ROUTES.daysOff, readBody, async (req: Request<{ id: string }>, res) => {
    const crew = idIn(req.params.id);
    const form = readForm(req.body);
    const faults: FormFault[] = [];
    if (form.from === "") faults.push({ field: "from", sentence: "Say on which day the crew is off first." });
    if (form.to === "") faults.push({ field: "to", sentence: "Say on which day the crew is off last." });
    if (faults.length > 0) show(res.status(422), crew, form, faults);
    else await make(req, res, { kind: "day-off-added", crew, input: form }, form);
  });

  router.post(ROUTES.takeDaysOff, readBody, async (req: Request<{ id: string }>, res) => {
    const crew = idIn(req.params.id);
    // As the page had written it: a reason may begin with a space.
    const input = { ...readForm(req.body), why: textOf(req.body, "why") };
    const change = { kind: "day-off-removed", crew, input, why: readReason(req.body) } as const;
    await make(req, res, change, EMPTY);
  });

  return router;
}

function readForm(body: unknown): DayOffForm {
  return {
    from: textOf(body, "from").trim(),
    to: textOf(body, "to").trim(),
    why: textOf(body, "why").trim(),
  };
}
