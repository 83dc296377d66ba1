/** The record: who changed what, when and why; each change taken back by form; and the plans that have been kept. */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildRecordView, kindWords, type RecordEntryView } from "../board/record-view.js";
import { buildPhotoViews, type PhotoView } from "../board/photo-view.js";
import { buildPlanLines } from "../board/plan-lines-view.js";
import { findWhyFault } from "../services/changes/apply-change.js";
import type { Desk } from "../services/desk.js";
import type { Photos } from "../services/photos.js";
import type { CompanyRecord } from "../services/record.js";
import type { RecordedChange } from "../store/record-store.js";
import { actorOf } from "./actor.js";
import { toFailedForm } from "./change-failure.js";
import { readReason, textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { listThings, parseRecordQuery, readRecordQuery, toQuery, type RecordQuery } from "./record-query.js";

/** Changes and plans on one page. */
const PAGE = 25;

/** An undo that did not happen. */
interface ReturnedUndo {
  readonly version: number;
  readonly reason: string;
  readonly sentence: string;
}

/** A row as the page gets it. */
interface ShownEntry extends RecordEntryView {
  readonly photos: readonly PhotoView[];
  readonly returned: ReturnedUndo | null;
}

/** The record of the company. */
export function recordRoutes(desk: Desk, record: CompanyRecord, photos: Photos): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = async (res: Response, query: RecordQuery, returned?: ReturnedUndo): Promise<void> => {
    const { company, source } = desk.current();
    const parsed = parseRecordQuery(query, company);
    const [rows, names] = await Promise.all([
      parsed.ok ? record.list({ ...parsed.value, limit: PAGE + 1 }) : [],
      record.names(),
    ]);
    const shown = await withReturned(rows.slice(0, PAGE), returned);
    const pictures = await photos.ofChanges(shown.map(({ version }) => version));
    const last = rows.length > PAGE ? rows[PAGE - 1] : undefined;
    const faults: readonly FormFault[] = parsed.ok ? [] : parsed.error;
    const view = {
      entries: buildRecordView(shown, source).map((entry): ShownEntry => ({
        ...entry,
        photos: buildPhotoViews(
          company,
          pictures.filter(({ version }) => version === entry.version),
          "en",
        ),
        returned: returned?.version === entry.version ? returned : null,
      })),
      query,
      faults:
        returned === undefined
          ? faults
          : [{ field: `change-${returned.version}`, sentence: returned.sentence }],
      isFiltered: Object.keys(toQuery(query)).length > 0,
      personNames: names.personNames,
      kinds: names.kinds.map((kind) => ({ kind, words: kindWords(kind) })),
      things: listThings(company),
      older: last === undefined ? "" : paths.record({ ...toQuery(query), before: String(last.version) }),
      newest: query.before === "" ? "" : paths.record({ ...toQuery(query), before: "" }),
    };
    const title = returned === undefined ? "Record" : "Record: not taken back";
    renderPage(parsed.ok ? res : res.status(422), "record", { title, view });
  };

  /** The change whose undo has come back is on the page in any case. */
  const withReturned = async (
    rows: readonly RecordedChange[],
    returned: ReturnedUndo | undefined,
  ): Promise<readonly RecordedChange[]> => {
    if (returned === undefined || rows.some(({ version }) => version === returned.version)) return rows;
    const change = await record.find(returned.version);
    return change === undefined ? rows : [change, ...rows];
  };

  router.get(ROUTES.record, (req, res) => show(res, readRecordQuery(req.query)));

  router.post(ROUTES.undo, readBody, async (req: Request<{ version: string }>, res) => {
    const version = Number(/^\d{1,15}$/.exec(req.params.version)?.[0] ?? NaN);
    if (Number.isNaN(version))
      throw new HttpRefusal(404, `There is no change "${req.params.version}" on record.`);
    const reason = readReason(req.body);
    const query = readRecordQuery(new URLSearchParams(textOf(req.body, "query")));
    const wrong = findWhyFault(reason);
    if (wrong !== undefined) {
      await show(res.status(422), query, { version, reason, sentence: wrong });
      return;
    }
    const undone = await desk.undo(version, actorOf(res), reason);
    if (undone.ok) {
      res.redirect(303, paths.record(toQuery(query)));
      return;
    }
    const { status, faults } = toFailedForm(undone.error);
    await show(res.status(status), query, {
      version,
      reason,
      sentence: faults.map(({ sentence }) => sentence).join(" "),
    });
  });

  router.get(ROUTES.plans, async (req, res) => {
    const { company } = desk.current();
    const before = /^\d{1,15}$/.exec(readRecordQuery(req.query).before)?.[0];
    const plans = await record.listPlans(PAGE + 1, before === undefined ? undefined : Number(before));
    const last = plans.length > PAGE ? plans[PAGE - 1] : undefined;
    const view = {
      plans: buildPlanLines(plans.slice(0, PAGE), company.company.timeZone),
      older: last === undefined ? "" : paths.plans(last.id),
      newest: before === undefined ? "" : paths.plans(),
    };
    renderPage(res, "plans", { title: "Kept plans", view });
  });

  return router;
}
