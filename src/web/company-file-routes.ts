/**
 * The whole company as a file: downloaded, and loaded in two steps. What is uploaded is checked and shown against what
 * stands; only what was shown is loaded, and only if nothing has changed meanwhile. Between the two steps the file is with
 * the owner, packed into the page: so it is nowhere half loaded, and any process may answer the second step.
 * Where there is no company yet, everything begins here.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildCompanyDifference } from "../board/company-difference-view.js";
import { formatFault, parseCompany, parseCompanyText, type Fault } from "../domain/company-file.js";
import type { Source } from "../domain/company-parts.js";
import { PRODUCT_NAME } from "../domain/product.js";
import { civilDateAt } from "../domain/time.js";
import { findWhyFault } from "../services/changes/apply-change.js";
import type { Clock } from "../services/clock.js";
import { layDemo, readDemoTemplate } from "../services/demo.js";
import type { Desk } from "../services/desk.js";
import { toCompanyText } from "../store/company-file-store.js";
import { actorOf } from "./actor.js";
import { MOST_UPLOAD_BYTES, readUpload } from "./company-upload.js";
import { readReason, readVersion, textOf } from "./form-body.js";
import { HttpRefusal } from "./http-refusal.js";
import { packFile, unpackFile } from "./packed-file.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";

/** More faults than these are counted and not shown. */
const MOST_FAULTS = 200;

interface FilePage {
  readonly faults: readonly Fault[];
  readonly pasted: string;
}

/** The company file: download, upload with a preview, the demo company. */
export function companyFileRoutes(desk: Desk, clock: Clock): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: MOST_UPLOAD_BYTES });
  const standing = (): { readonly source: Source | undefined; readonly version: number } =>
    desk.isEmpty ? { source: undefined, version: 0 } : desk.current();

  const show = (res: Response, { faults, pasted }: FilePage): void => {
    const view = {
      isEmpty: desk.isEmpty,
      name: desk.isEmpty ? "" : desk.current().company.company.name,
      faults: faults.slice(0, MOST_FAULTS),
      moreFaults: Math.max(0, faults.length - MOST_FAULTS),
      faultCount: faults.length,
      pasted,
    };
    const title = faults.length > 0 ? "Company file: not loaded" : "Company file";
    renderPage(res, "company-file", { title, view });
  };

  const showDifference = async (
    res: Response,
    source: Source,
    said: { readonly reason?: string; readonly sentences?: readonly string[] } = {},
  ): Promise<void> => {
    const { source: before, version } = standing();
    const parsed = parseCompany(source);
    const view = {
      ...buildCompanyDifference(before, source),
      isFirst: before === undefined,
      hasOffice: "office" in source,
      name: parsed.ok ? parsed.value.company.name : "",
      standingName: desk.isEmpty ? "" : desk.current().company.company.name,
      file: await packFile(JSON.stringify(source)),
      version,
      reason: said.reason ?? "",
      sentences: said.sentences ?? [],
    };
    renderPage(res, "company-difference", { title: "Company file: look at it first", view });
  };

  router.get(ROUTES.companyFile, (_req, res) => show(res, { faults: [], pasted: "" }));

  router.get(ROUTES.downloadCompany, (_req, res) => {
    if (desk.isEmpty) throw new HttpRefusal(404, "There is no company yet, so there is nothing to download.");
    const { source, today } = desk.current();
    res.set("Cache-Control", "no-store");
    res.attachment(`${PRODUCT_NAME.toLowerCase()}-company-${today}.json`);
    res.type("application/json").send(toCompanyText(source));
  });

  router.post(ROUTES.previewCompany, async (req: Request, res) => {
    const upload = await readUpload(req, res);
    if (!upload.ok) {
      show(res.status(422), { faults: [{ path: "", sentence: upload.error }], pasted: "" });
      return;
    }
    const { text, isPasted } = upload.value;
    const parsed = parseCompanyText(text);
    if (!parsed.ok) {
      show(res.status(422), { faults: parsed.error, pasted: isPasted ? text : "" });
      return;
    }
    await showDifference(res, toSource(text));
  });

  router.post(ROUTES.loadCompany, readBody, async (req: Request, res) => {
    const [reason, seen] = [readReason(req.body), readVersion(req.body)];
    const text = await unpackFile(textOf(req.body, "file"));
    const parsed = text === undefined ? undefined : parseCompanyText(text);
    if (text === undefined || parsed?.ok !== true || seen === undefined) {
      const sentence = "The file did not come back as it was shown, so nothing was loaded. Upload it again.";
      show(res.status(422), { faults: [{ path: "", sentence }], pasted: "" });
      return;
    }
    const source = toSource(text);
    const wrong = findWhyFault(reason);
    if (wrong !== undefined) {
      await showDifference(res.status(422), source, { reason, sentences: [wrong] });
      return;
    }
    const loaded = await desk.load(source, actorOf(res), reason, seen);
    if (loaded.ok) {
      res.redirect(303, paths.home());
      return;
    }
    const sentences = [
      ...loaded.error.map(formatFault),
      "Below is what the file would change now; load it if that is right.",
    ];
    await showDifference(res.status(409), source, { reason, sentences });
  });

  router.post(ROUTES.beginWithDemo, readBody, async (_req, res) => {
    if (!desk.isEmpty)
      throw new HttpRefusal(409, "There is a company already, so the demo company was not loaded.");
    const template = await readDemoTemplate();
    const source = layDemo(template, civilDateAt(clock(), template.timeZone));
    const loaded = await desk.load(source, actorOf(res), "To begin with", 0);
    if (!loaded.ok) throw new HttpRefusal(409, loaded.error.map(formatFault).join(" "));
    res.redirect(303, paths.home());
  });

  return router;
}

/** Proof of the cast: what has passed as a company file is a JSON object. A backup's other tables stay what they are. */
function toSource(text: string): Source {
  return JSON.parse(text.replace(/^\uFEFF/, "")) as Source;
}
