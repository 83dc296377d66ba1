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
  signIn: "/sign-in",
  signOut: "/sign-out",
  signOutEverywhere: "/sign-out-everywhere",
  account: "/account",
  changePassword: "/account/password",
  invitation: "/invitation/:token",
  crewLink: "/link/:token",
  crewLinks: "/crew-links",
  makeCrewLink: "/crew-links/:id/make",
  renewCrewLink: "/crew-links/:id/renew",
  revokeCrewLink: "/crew-links/:id/revoke",
  people: "/people",
  changeRole: "/people/:id/role",
  disablePerson: "/people/:id/disable",
  enablePerson: "/people/:id/enable",
  resetLink: "/people/:id/reset-link",
  health: "/healthz",
  ready: "/readyz",
  metrics: "/metrics",
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
  /** `next`: where to go afterwards. */
  signIn: (next?: string) => (next === undefined ? "/sign-in" : `/sign-in?next=${part(next)}`),
  signOut: () => "/sign-out",
  signOutEverywhere: () => "/sign-out-everywhere",
  account: () => "/account",
  changePassword: () => "/account/password",
  invitation: (token: string) => `/invitation/${part(token)}`,
  crewLink: (token: string) => `/link/${part(token)}`,
  crewLinks: () => "/crew-links",
  makeCrewLink: (id: string) => `/crew-links/${part(id)}/make`,
  renewCrewLink: (id: string) => `/crew-links/${part(id)}/renew`,
  revokeCrewLink: (id: string) => `/crew-links/${part(id)}/revoke`,
  people: () => "/people",
  changeRole: (id: number) => `/people/${id}/role`,
  disablePerson: (id: number) => `/people/${id}/disable`,
  enablePerson: (id: number) => `/people/${id}/enable`,
  resetLink: (id: number) => `/people/${id}/reset-link`,
  file: (name: string) => `/static/${name}`,
} as const;
