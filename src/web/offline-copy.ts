/**
 * What lets a crew's pages work without signal: the service worker keeps only what the server marks as its to keep, and
 * that is the sheet and the page for reports of today and tomorrow and the page for photos, in both languages, for whoever
 * came by the crew's link. A copy on a computer of the office would still be there when its reader has signed out.
 */
import type { Response } from "express";
import { toLanguageChoice } from "../board/language-choice.js";
import { OFFLINE_WORDS, type OfflineWords } from "../board/offline-words.js";
import { shortDate, type Language } from "../board/spoken-time.js";
import type { Crew } from "../domain/company-schema.js";
import { addDays, type CivilDate } from "../domain/time.js";
import type { DeskState } from "../services/desk.js";
import { liveStampOf } from "./live-stamp.js";
import { paths, WORKER_SCOPES } from "./paths.js";
import { whoOf } from "./who.js";

export interface OfflineView {
  readonly words: OfflineWords;
  /** For the script, as JSON. */
  readonly scriptWords: string;
  readonly crewId: string;
  /** What the worker stands in front of. */
  readonly scope: string;
  readonly links: string;
  readonly worker: string;
  /** What makes it all work on this page. */
  readonly script: string;
  /** Where reports and photos are sent to. */
  readonly reports: string;
  readonly photos: string;
  /** The company's date: a day later, other pages are kept. */
  readonly today: CivilDate;
  /** What to keep, as JSON: addresses, those in the language of the page first. */
  readonly keep: string;
  /** The sheets among them, for where a page is asked for that is not kept. */
  readonly sheets: readonly { readonly href: string; readonly day: string }[];
}

/** For a page of `crew` in `language`; undefined for whoever did not come by its link. */
export function offlineViewFor(
  res: Response,
  { today }: Pick<DeskState, "today">,
  { id, language: own }: Pick<Crew, "id" | "language">,
  language: Language,
  /** Whether something can be said on it. */
  hasForms: boolean,
): OfflineView | undefined {
  if (whoOf(res).kind !== "crew") return undefined;
  const days = [today, addDays(today, 1)];
  const { thisLanguage, otherLanguage } = toLanguageChoice(language, own).asks;
  const keep = [thisLanguage, otherLanguage].flatMap((asked) => [
    ...days.map((day) => paths.crewDay(id, day, asked)),
    ...days.map((day) => paths.crewReport(id, day, asked)),
    paths.crewPhotos(id, undefined, asked),
  ]);
  return {
    words: OFFLINE_WORDS[language],
    scriptWords: JSON.stringify(OFFLINE_WORDS[language].script),
    crewId: id,
    scope: WORKER_SCOPES.crews,
    links: WORKER_SCOPES.links,
    worker: paths.file("offline-worker.js"),
    script: paths.file(hasForms ? "report-form.js" : "offline.js"),
    reports: paths.crewReports(id),
    photos: paths.crewPhotos(id),
    today,
    keep: JSON.stringify(keep),
    sheets: days.map((day) => ({
      href: paths.crewDay(id, day, thisLanguage),
      day: shortDate(day, language),
    })),
  };
}

/** Lets the phone keep the answer under `path`, which names the language where it is not the crew's own. */
export function allowKeeping(
  res: Response,
  state: Pick<DeskState, "version" | "planId" | "today">,
  path: string,
  language: Language,
): void {
  if (whoOf(res).kind !== "crew") return;
  const { company, plan } = liveStampOf(state);
  res.set({
    "Content-Language": language,
    "X-Kept-As": path,
    "X-Kept-Stamp": `${company}.${plan}.${state.today}`,
  });
}

/** Whether a phone keeps what is about that day. */
export function isDayKept({ today }: Pick<DeskState, "today">, date: CivilDate): boolean {
  return date === today || date === addDays(today, 1);
}
