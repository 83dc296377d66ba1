/**
 * Photos from site: sent by a crew's phone, from a form or by script, and shown to the office and to the crew itself. A
 * browser keeps a picture only to ask whether it may still show it.
 */
import { Router, type Request, type Response } from "express";
import { buildPhotoViews } from "../board/photo-view.js";
import { toLanguageChoice } from "../board/language-choice.js";
import { PHOTO_WORDS, type PhotoWords } from "../board/photo-words.js";
import type { Language } from "../board/spoken-time.js";
import type { Crew } from "../domain/company-schema.js";
import { addDays, parseCivilDate, type CivilDate } from "../domain/time.js";
import type { Desk, DeskState } from "../services/desk.js";
import type { Photos, PhotoTaken } from "../services/photos.js";
import { MOST_PIXELS, type PictureFault } from "../services/photos/picture.js";
import type { PhotoSize } from "../store/photo-store.js";
import { actorForCrew, crewAsked } from "./crew-asked.js";
import { dayShown } from "./day-shown.js";
import { textOf } from "./form-body.js";
import { languageIn } from "./language-asked.js";
import { HttpRefusal } from "./http-refusal.js";
import { liveViewFor } from "./live-routes.js";
import { allowKeeping, offlineViewFor } from "./offline-copy.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { buildPhotoForm, isPhotoKey, listPhotoChoices, parsePhotoFields } from "./photo-form.js";
import { MOST_PHOTO_MEGABYTES, readPhotoUpload, type UploadFailure } from "./photo-upload.js";
import { crewReadingOf } from "./reading-of.js";
import { officeTimeOf } from "./said-time.js";

/** Photos of the crew on its own page, the newest. */
const MOST_SHOWN = 24;

/** What an address of the page may name: then it is about that alone. */
const OF_ONE_CASE = ["date", "report", "job", "task", "sent"];

/** What became of a photo. Without a key where the form could not be read. */
type Answer =
  | { readonly state: PhotoTaken; readonly key: string }
  | { readonly state: "faulty"; readonly key?: string; readonly status: 413 | 422 | 503 };

/** Sends photos, and takes them. */
export function photoRoutes(desk: Desk, photos: Photos): Router {
  const router = Router();

  const show = async (asked: Asked, { status, faults, sentence }: Shown): Promise<void> => {
    const { res, state, crew, fields } = asked;
    const { company, today } = state;
    const language = languageOf(asked);
    const words = PHOTO_WORDS[language];
    const date = dateOf(asked);
    const asks = toLanguageChoice(language, crew.language).asks.thisLanguage;
    const days = [today, textOf(fields, "date") === "" ? addDays(today, 1) : date];
    const [job, task] = [textOf(fields, "job"), textOf(fields, "task")];
    const chosen = task === "" ? job : `${job}/${task}`;
    const photoForm = buildPhotoForm({
      crewId: crew.id,
      date,
      report: isPhotoKey(textOf(fields, "report")) ? textOf(fields, "report") : "",
      choices: listPhotoChoices(crewReadingOf(state), crew, days, language, chosen),
      chosen,
      language,
      asks,
    });
    const view = {
      crewId: crew.id,
      crewName: crew.name,
      words,
      faults: faults.map((text) => ({ field: undefined, sentence: text })),
      sentence,
      photoForm,
      photos: buildPhotoViews(company, await photos.ofCrew(crew.id, MOST_SHOWN), language, "work"),
      reports: paths.crewReport(crew.id, date, asks),
      back: paths.crewDay(crew.id, date, asks),
    };
    const title = `${crew.name}, ${faults.length > 0 ? words.notTaken : words.photos}`;
    // The copy that a phone keeps is about no day, report or task in particular.
    if (faults.length === 0 && OF_ONE_CASE.every((name) => textOf(fields, name) === "")) {
      allowKeeping(res, state, paths.crewPhotos(crew.id, undefined, asks), language);
    }
    renderPage(res.status(status), "photo", {
      title,
      view,
      language,
      offline: offlineViewFor(res, state, crew, language, true),
      // A form that has come back holds what somebody chose: such a page stays as it is.
      ...(faults.length === 0 && { live: liveViewFor(res, state, crew.id) }),
    });
  };

  /** To a script as JSON; to a form the page that goes on, or the form again with what is wrong. */
  const answer = async (asked: Asked, said: Answer, sentences: readonly string[]): Promise<void> => {
    const { req, res, crew, fields } = asked;
    const isFaulty = said.state === "faulty";
    if (req.accepts(["html", "json"]) === "json") {
      const { key, state } = said;
      res.status(isFaulty ? said.status : 200).json({ key, state, sentence: sentences.join(" ") });
    } else if (isFaulty) {
      await show(asked, { status: said.status, faults: sentences, sentence: "" });
    } else {
      const query = new URLSearchParams({ sent: said.key, date: dateOf(asked) });
      const language = languageIn(fields);
      if (language !== undefined) query.set("lang", language);
      res.redirect(303, `${paths.crewPhotos(crew.id)}?${query.toString()}`);
    }
  };

  router.post(ROUTES.crewPhotos, async (req: Request<{ id: string }>, res) => {
    const state = desk.current();
    const crew = crewAsked(state.company, req.params.id);
    const asked: Asked = { req, res, state, crew, fields: undefined };
    const upload = await readPhotoUpload(req, res);
    const ownWords = PHOTO_WORDS[languageOf(asked)];
    if (!upload.ok) {
      if (upload.error === "busy") res.set("Retry-After", "30");
      const status = STATUS_OF_FAILURE[upload.error];
      await answer(asked, { state: "faulty", status }, [sayUploadFailure(upload.error, ownWords)]);
      return;
    }
    const { fields, file } = upload.value;
    const withFields = { ...asked, fields };
    const words = PHOTO_WORDS[languageOf(withFields)];
    const said = parsePhotoFields(fields, officeTimeOf(state), words);
    if (!said.ok || file === undefined) {
      const sentences = [...(said.ok ? [] : said.error), ...(file === undefined ? [words.noFile] : [])];
      await answer(withFields, { state: "faulty", status: 422, ...keyIn(fields) }, sentences);
      return;
    }
    const { key } = said.value;
    const sent = { ...said.value, crew, company: state.company, file };
    const taken = await photos.take(sent, actorForCrew(res, crew));
    if (taken.ok) {
      const sentence = taken.value === "taken" ? words.taken : words.takenBefore;
      await answer(withFields, { state: taken.value, key }, [sentence]);
      return;
    }
    await answer(withFields, { state: "faulty", status: 422, key }, [sayPictureFault(taken.error, words)]);
  });

  router.get(ROUTES.crewPhotos, async (req: Request<{ id: string }>, res) => {
    const state = desk.current();
    const crew = crewAsked(state.company, req.params.id);
    const asked: Asked = { req, res, state, crew, fields: req.query };
    const photo = textOf(req.query, "sent");
    const isHere = isPhotoKey(photo) && (await photos.has(photo));
    const sentence = isHere ? PHOTO_WORDS[languageOf(asked)].taken : "";
    await show(asked, { status: 200, faults: [], sentence });
  });

  const send = async (res: Response, photo: string, size: PhotoSize, crewId?: string): Promise<void> => {
    const file = /^\d{1,15}$/.test(photo) ? await photos.find(Number(photo), size) : undefined;
    if (file === undefined || (crewId !== undefined && file.crewId !== crewId)) {
      throw new HttpRefusal(404, "There is no such photo.", "No existe esa foto.");
    }
    res.set({
      "Cache-Control": "private, no-cache",
      ETag: `"${file.digest}-${size}"`,
      "Content-Disposition": `inline; filename="photo-${photo}.jpg"`,
    });
    res.type("image/jpeg").send(Buffer.from(file.bytes));
  };

  type OfPhoto = Request<{ photo: string }>;
  type OfCrew = Request<{ id: string; photo: string }>;
  router.get(ROUTES.photo, ({ params }: OfPhoto, res) => send(res, params.photo, "whole"));
  router.get(ROUTES.smallPhoto, ({ params }: OfPhoto, res) => send(res, params.photo, "small"));
  router.get(ROUTES.crewPhoto, ({ params }: OfCrew, res) => send(res, params.photo, "whole", params.id));
  router.get(ROUTES.crewSmallPhoto, ({ params }: OfCrew, res) => send(res, params.photo, "small", params.id));

  return router;
}

/** How the page is shown. */
interface Shown {
  readonly status: number;
  /** Why a photo was not taken; empty where none was sent. */
  readonly faults: readonly string[];
  /** That one was taken; empty where none was. */
  readonly sentence: string;
}

/** A form that somebody has sent, or an address with such fields. */
interface Asked {
  readonly req: Request<{ id: string }>;
  readonly res: Response;
  readonly state: DeskState;
  readonly crew: Crew;
  /** Undefined where they could not be read. */
  readonly fields: unknown;
}

function languageOf({ fields, crew }: Asked): Language {
  return languageIn(fields) ?? crew.language;
}

/** The day that the form was on. */
function dateOf({ fields, state }: Asked): CivilDate {
  return parseCivilDate(textOf(fields, "date")) ?? dayShown(state);
}

function keyIn(fields: unknown): { readonly key?: string } {
  const key = textOf(fields, "key");
  return key === "" ? {} : { key };
}

const STATUS_OF_FAILURE = {
  "too-big": 413,
  "several-files": 422,
  unreadable: 422,
  busy: 503,
} as const satisfies Record<UploadFailure, number>;

function sayUploadFailure(failure: UploadFailure, words: PhotoWords): string {
  const sentences: Readonly<Record<UploadFailure, string>> = {
    "too-big": words.tooBig(MOST_PHOTO_MEGABYTES),
    "several-files": words.severalFiles,
    unreadable: words.unreadable,
    busy: words.busy,
  };
  return sentences[failure];
}

function sayPictureFault(fault: PictureFault, words: PhotoWords): string {
  if (fault.kind === "empty") return words.noFile;
  if (fault.kind === "other-kind") return words.otherKind[fault.is];
  if (fault.kind === "moving") return words.moving;
  if (fault.kind === "broken") return words.broken(fault.is);
  return words.tooManyPixels(fault.megapixels, MOST_PIXELS / 1_000_000);
}
