/**
 * What lets a crew's pages work without signal: the service worker keeps only what the server marks as its to keep, and
 * that is the sheet and the page for reports of today and tomorrow, for whoever came by the crew's link. A copy on a
 * computer of the office would still be there when its reader has signed out.
 */
import type { Response } from "express";
import { OFFLINE_WORDS, type OfflineWords } from "../board/offline-words.js";
import { shortDate, type Language } from "../board/spoken-time.js";
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
  /** Where reports and photos are sent to. */
  readonly reports: string;
  readonly photos: string;
  /** The company's date: a day later, other pages are kept. */
  readonly today: CivilDate;
  /** What to keep, as JSON: addresses in the language of the page. */
  readonly keep: string;
  /** The sheets among them, for where a page is asked for that is not kept. */
  readonly sheets: readonly { readonly href: string; readonly day: string }[];
}

/** For a page of `crew`; undefined for whoever did not come by its link. `asked`: what its addresses ask for. */
export function offlineViewFor(
  res: Response,
  { today }: Pick<DeskState, "today">,
  crew: string,
  language: Language,
  asked: Language | undefined,
): OfflineView | undefined {
  if (whoOf(res).kind !== "crew") return undefined;
  const days = [today, addDays(today, 1)];
  const sheets = days.map((day) => ({
    href: paths.crewDay(crew, day, asked),
    day: shortDate(day, language),
  }));
  const keep = [...sheets.map(({ href }) => href), ...days.map((day) => paths.crewReport(crew, day, asked))];
  return {
    words: OFFLINE_WORDS[language],
    scriptWords: JSON.stringify(OFFLINE_WORDS[language].script),
    crewId: crew,
    scope: WORKER_SCOPES.crews,
    links: WORKER_SCOPES.links,
    worker: paths.file("offline-worker.js"),
    reports: paths.crewReports(crew),
    photos: paths.crewPhotos(crew),
    today,
    keep: JSON.stringify(keep),
    sheets,
  };
}

/** Lets the phone keep the answer as `path` (without a language), where it is one of the pages to keep. */
export function allowKeeping(
  res: Response,
  state: Pick<DeskState, "version" | "planId" | "today">,
  path: string,
  date: CivilDate,
): void {
  const { today } = state;
  if (whoOf(res).kind !== "crew" || (date !== today && date !== addDays(today, 1))) return;
  const { company, plan } = liveStampOf(state);
  res.set({ "X-Kept-As": path, "X-Kept-Stamp": `${company}.${plan}.${today}` });
}
