/** Reports from site as the office works through them: what is open first, with its ripple, and the mark that it is settled. */
import { setTimeout } from "node:timers/promises";
import { Router, urlencoded, type Request, type RequestHandler, type Response } from "express";
import { buildOfficeReport, type OfficeReportView, type ReportLink } from "../board/office-reports-view.js";
import { buildPhotoViews, type PhotoView } from "../board/photo-view.js";
import type { RippleView } from "../board/ripple-view.js";
import type { Company } from "../domain/company-schema.js";
import type { Desk } from "../services/desk.js";
import type { Photos } from "../services/photos.js";
import type { Ripples } from "../services/ripples.js";
import type { SiteReports } from "../services/site-reports.js";
import type { SiteReport } from "../domain/site-report.js";
import { actorOf } from "./actor.js";
import { HttpRefusal } from "./http-refusal.js";
import { liveViewFor } from "./live-routes.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { whoOf } from "./who.js";

/** Reports on one page; those that are open come first. */
const MOST_REPORTS = 100;
/** How long a page waits for ripples that are not known yet. */
const RIPPLE_PATIENCE_MS = 2000;

export interface ReportSources {
  readonly reports: SiteReports;
  readonly ripples: Ripples;
  readonly photos: Photos;
}

/** A report as the page gets it. */
export interface ShownReport extends Omit<OfficeReportView, "links"> {
  readonly links: readonly { readonly href: string; readonly words: string }[];
  readonly photos: readonly PhotoView[];
}

/** The page of reports, and the mark of the office. */
export function reportRoutes(desk: Desk, sources: ReportSources): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  router.get(ROUTES.reports, async (_req, res) => {
    const state = desk.current();
    const all = await showReports(state.company, await sources.reports.list(MOST_REPORTS), sources);
    const view = { open: all.filter(({ isOpen }) => isOpen), settled: all.filter(({ isOpen }) => !isOpen) };
    renderPage(res, "reports", { title: "Reports from site", view, live: liveViewFor(res, state) });
  });

  const mark =
    (isSettled: boolean) =>
    async (req: Request<{ report: string }>, res: Response): Promise<void> => {
      const text = req.params.report;
      const id = /^\d{1,15}$/.test(text) ? Number(text) : 0;
      const { reports } = sources;
      const report = await (isSettled ? reports.settle(id, actorOf(res)) : reports.unsettle(id));
      if (report === undefined) {
        throw new HttpRefusal(404, `There is no report "${text}". The page of reports lists them all.`);
      }
      res.redirect(303, `${paths.reports()}#report-${report.id}`);
    };
  router.post(ROUTES.settleReport, readBody, mark(true));
  router.post(ROUTES.unsettleReport, readBody, mark(false));

  return router;
}

/** Reports in their order, with photos, and the open ones with what they have moved. */
export async function showReports(
  company: Company,
  reports: readonly SiteReport[],
  { ripples, photos }: Pick<ReportSources, "ripples" | "photos">,
): Promise<readonly ShownReport[]> {
  const patience = setTimeout(RIPPLE_PATIENCE_MS, "to-come" as const, { ref: false });
  const findRipple = async (report: SiteReport): Promise<RippleView | "to-come" | undefined> => {
    const isOpen = report.applied && report.settledAt === null && !report.isTakenBack;
    return isOpen ? Promise.race([ripples.of(report), patience]) : undefined;
  };
  const [pictures, moved] = await Promise.all([
    photos.ofReports(reports.map(({ key }) => key)),
    Promise.all(reports.map(findRipple)),
  ]);
  return reports.map((report, index) => {
    const { links, ...view } = buildOfficeReport(company, report, moved[index]);
    const own = pictures.filter(({ reportKey }) => reportKey === report.key);
    return {
      ...view,
      links: links.map((link) => ({ href: hrefOf(link), words: link.words })),
      photos: buildPhotoViews(company, own, "en"),
    };
  });
}

function hrefOf({ page, fields }: ReportLink): string {
  switch (page) {
    case "slip":
      return paths.slip(fields);
    case "ways":
      return paths.ways(fields);
    case "holds":
      return paths.holds();
    case "job": {
      const [job, task] = fields[0] ?? ["", ""];
      return `${paths.job(job)}#task-${encodeURIComponent(task)}`;
    }
  }
}

/** Before every page of the office: how many reports are open, for its masthead, and by what an open page tells marks. */
export function countReports(reports: SiteReports): RequestHandler {
  return async (req, res, next) => {
    const isPage = req.method === "GET" && whoOf(res).kind === "person" && !req.path.startsWith("/live");
    // A page is worth more than the count.
    const standing = isPage ? await reports.standing().catch(() => undefined) : undefined;
    if (standing !== undefined) {
      Object.assign(res.locals, { openReports: standing.open, reportsMark: standing.mark });
    }
    next();
  };
}
