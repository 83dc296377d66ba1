/**
 * Every URL of the app, once: the pattern that a route listens on and the builder that a page links with.
 */
import type { Language } from "../board/spoken-time.js";

/** What express listens on. */
export const ROUTES = {
  home: "/",
  board: "/board/:date",
  crew: "/crew/:id",
  crewDay: "/crew/:id/:date",
  jobs: "/jobs",
  job: "/jobs/:id",
  waiting: "/waiting",
  planning: "/planning",
  holds: "/holds",
  liftHold: "/holds/:id/lift",
  health: "/healthz",
  fonts: "/static/fonts",
  files: "/static",
} as const;

const part = encodeURIComponent;
const inLanguage = (language: Language): string => (language === "en" ? "" : `?lang=${language}`);

/** What pages link to; also given to every template. */
export const paths = {
  home: () => "/",
  board: (date: string) => `/board/${part(date)}`,
  crew: (id: string, language: Language = "en") => `/crew/${part(id)}${inLanguage(language)}`,
  crewDay: (id: string, date: string, language: Language = "en") =>
    `/crew/${part(id)}/${part(date)}${inLanguage(language)}`,
  jobs: () => "/jobs",
  job: (id: string) => `/jobs/${part(id)}`,
  waiting: () => "/waiting",
  planning: () => "/planning",
  holds: () => "/holds",
  liftHold: (id: string) => `/holds/${part(id)}/lift`,
  file: (name: string) => `/static/${name}`,
} as const;
