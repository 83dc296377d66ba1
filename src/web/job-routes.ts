/**
 * The page of a house and what can be changed on it: the promised date, deliveries, the progress of tasks. A form that did
 * nothing comes back on the same page with what was typed, opened, above the house as it is now.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildJobView } from "../board/job-view.js";
import { buildPhotoViews, groupByTask, type PhotoView } from "../board/photo-view.js";
import type { Fault } from "../domain/company-file.js";
import type { Job } from "../domain/company-schema.js";
import type { CompanyChange } from "../services/changes/company-change.js";
import type { Desk, DeskState } from "../services/desk.js";
import type { Photos } from "../services/photos.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION } from "./change-failure.js";
import { readVersion } from "./form-body.js";
import { toFormFaults } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { idIn } from "./id-in-path.js";
import {
  buildJobForms,
  deliveryPrefix,
  parseTaskForm,
  PROMISED_PREFIX,
  readDeliveryForm,
  readPromisedForm,
  readTaskForm,
  TASK_FIELDS,
  taskPrefix,
  type FormValues,
  type ReturnedForm,
} from "./job-forms.js";
import { liveViewFor } from "./live-routes.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { readingOf } from "./reading-of.js";
import { showReports, type ReportSources } from "./report-routes.js";

/** A change that a form asks for, and where to put what is said of it. */
interface Asked {
  readonly job: string;
  readonly change: CompanyChange;
  readonly prefix: string;
  readonly values: FormValues;
  readonly fields: readonly string[];
  /** Where on the page to go on. */
  readonly anchor: string;
}

/** The page of a house, and its forms. */
export function jobRoutes(desk: Desk, sources: ReportSources): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const show = async (res: Response, id: string, returned?: ReturnedForm): Promise<void> => {
    const state = desk.current();
    const reading = readingOf(state);
    const job = reading.jobs.get(id);
    if (job === undefined) {
      // What a form was about may have gone while it was open.
      const [fault] = returned?.faults ?? [];
      throw new HttpRefusal(
        fault === undefined ? 404 : 409,
        fault?.sentence ?? `There is no house "${id}". The page of houses lists them all.`,
      );
    }
    const slips = job.tasks
      .filter(({ status, trade }) => status !== "done" && trade !== null)
      .map(({ id: task }) => task);
    const view = {
      ...buildJobView(reading, job),
      forms: buildJobForms(state, job, returned),
      returned,
      slips,
      photos: listPhotos(state, job, await sources.photos.ofJob(id)),
      reports: await showReports(state.company, await sources.reports.ofJob(id), sources),
    };
    renderPage(res, "job", {
      title: returned === undefined ? job.name : `${job.name}: not changed`,
      view,
      // A form that has come back holds what somebody typed: such a page stays as it is.
      ...(returned === undefined && { live: liveViewFor(res, state) }),
    });
  };

  const make = async (req: Request, res: Response, asked: Asked): Promise<void> => {
    const { job, change, prefix, values, fields, anchor } = asked;
    const showFailed = (status: number, faults: readonly Fault[]): Promise<void> =>
      show(res.status(status), job, { prefix, values, faults: toFormFaults(faults, fields, prefix) });
    const seen = readVersion(req.body);
    if (seen === undefined) {
      await showFailed(WITHOUT_VERSION.status, WITHOUT_VERSION.faults);
      return;
    }
    const made = await desk.make({ ...change, why: values["reason"] ?? "", seen }, actorOf(res));
    if (made.ok) {
      res.redirect(303, `${paths.job(job)}#${anchor}`);
      return;
    }
    const failed = toFailedForm(made.error);
    await showFailed(failed.status, failed.faults);
  };

  /** The house that an address names. */
  const jobOf = (id: string): Job => {
    const job = desk.current().company.jobs.find((candidate) => candidate.id === idIn(id));
    if (job !== undefined) return job;
    throw new HttpRefusal(404, `There is no house "${id}". The page of houses lists them all.`);
  };

  router.get(ROUTES.job, (req: Request<{ id: string }>, res) => show(res, req.params.id));

  router.post(ROUTES.movePromise, readBody, async (req: Request<{ id: string }>, res) => {
    const job = jobOf(req.params.id).id;
    const values = readPromisedForm(req.body);
    const change = { kind: "promise-moved", job, promised: values["promised"] || null } as const;
    const fields = ["promised", "reason"];
    await make(req, res, { job, change, prefix: PROMISED_PREFIX, values, fields, anchor: "promised" });
  });

  router.post(
    ROUTES.changeDelivery,
    readBody,
    async (req: Request<{ id: string; delivery: string }>, res) => {
      const { id: job } = jobOf(req.params.id);
      const delivery = idIn(req.params.delivery);
      const values = readDeliveryForm(req.body);
      const change = {
        kind: "delivery-changed",
        job,
        delivery,
        expected: values["expected"] ?? "",
        received: values["received"] === "yes",
      } as const;
      await make(req, res, {
        job,
        change,
        prefix: deliveryPrefix(delivery),
        values,
        fields: ["expected", "received", "reason"],
        anchor: "deliveries",
      });
    },
  );

  router.post(ROUTES.taskProgress, readBody, async (req: Request<{ id: string; task: string }>, res) => {
    const { id: job } = jobOf(req.params.id);
    const task = idIn(req.params.task);
    const values = readTaskForm(req.body);
    const prefix = taskPrefix(task);
    const input = parseTaskForm(values);
    if (!input.ok) {
      const faults = input.error.map(({ field, sentence }) => ({ field: `${prefix}${field}`, sentence }));
      await show(res.status(422), job, { prefix, values, faults });
      return;
    }
    const change = { kind: "task-progress", job, task, input: input.value } as const;
    await make(req, res, { job, change, prefix, values, fields: TASK_FIELDS, anchor: `task-${task}` });
  });

  return router;
}

/** Photos of a house beside its tasks, and those of the house as a whole. */
function listPhotos(
  { company }: DeskState,
  job: Job,
  photos: Awaited<ReturnType<Photos["ofJob"]>>,
): {
  readonly ofTasks: Readonly<Record<string, readonly PhotoView[]>>;
  readonly ofHouse: readonly PhotoView[];
} {
  const ids = job.tasks.map(({ id }) => id);
  const groups = groupByTask(photos, ids);
  const viewsOf = (task: string | null): readonly PhotoView[] =>
    buildPhotoViews(company, groups.get(task) ?? [], "en");
  return { ofTasks: Object.fromEntries(ids.map((id) => [id, viewsOf(id)])), ofHouse: viewsOf(null) };
}
