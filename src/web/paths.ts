/**
 * Every URL of the app, once: the pattern that a route listens on and the builder that a page links with.
 */
import type { Language } from "../board/spoken-time.js";
import { fileStamp } from "./shipped-files.js";

/** What express listens on. */
export const ROUTES = {
  home: "/",
  board: "/board/:date",
  live: "/live",
  crewLive: "/crew/:id/live",
  crew: "/crew/:id",
  crewDay: "/crew/:id/:date",
  printCrewDay: "/crew/:id/:date/print",
  crewReport: "/crew/:id/:date/report",
  crewReports: "/crew/:id/reports",
  printDay: "/print/:date",
  crewPhotos: "/crew/:id/photos",
  crewPhoto: "/crew/:id/photos/:photo",
  crewSmallPhoto: "/crew/:id/photos/:photo/small",
  photo: "/photos/:photo",
  smallPhoto: "/photos/:photo/small",
  jobs: "/jobs",
  job: "/jobs/:id",
  waiting: "/waiting",
  planning: "/planning",
  holds: "/holds",
  changeHold: "/holds/:id",
  liftHold: "/holds/:id/lift",
  movePromise: "/jobs/:id/promised",
  changeDelivery: "/jobs/:id/deliveries/:delivery",
  taskProgress: "/jobs/:id/tasks/:task",
  moveTask: "/jobs/:id/tasks/:task/move",
  movePrice: "/jobs/:id/tasks/:task/move/price",
  crews: "/crews",
  crewLanguage: "/crews/:id/language",
  daysOff: "/crews/:id/days-off",
  takeDaysOff: "/crews/:id/days-off/remove",
  slip: "/slip",
  ways: "/ways",
  lookAtWay: "/ways/look",
  takeWay: "/ways/take",
  published: "/published",
  undoPublish: "/published/undo",
  releaseSheet: "/published/release",
  calls: "/calls",
  tickCall: "/calls/:call/tick",
  untickCall: "/calls/:call/untick",
  reports: "/reports",
  settleReport: "/reports/:report/settle",
  unsettleReport: "/reports/:report/unsettle",
  record: "/record",
  undo: "/record/:version/undo",
  plans: "/plans",
  companyFile: "/company-file",
  downloadCompany: "/company-file/download",
  previewCompany: "/company-file/preview",
  loadCompany: "/company-file/load",
  beginWithDemo: "/company-file/demo",
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
  feed: "/feed/:file",
  makeFeed: "/crew-links/:id/calendar/make",
  renewFeed: "/crew-links/:id/calendar/renew",
  revokeFeed: "/crew-links/:id/calendar/revoke",
  houseLink: "/house/:token",
  houseLinks: "/house-links",
  makeHouseLink: "/house-links/:id/make",
  renewHouseLink: "/house-links/:id/renew",
  revokeHouseLink: "/house-links/:id/revoke",
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

/** What the service worker of crews' pages stands in front of: nothing of the office. */
export const WORKER_SCOPES = { crews: "/crew/", links: "/link/" } as const;

const part = encodeURIComponent;
/** Nothing where the page speaks the crew's own language. */
const inLanguage = (language: Language | undefined): string =>
  language === undefined ? "" : `?lang=${language}`;

/** Without the fields that say nothing. */
function withQuery(path: string, query: Readonly<Record<string, string>>): string {
  const given = Object.entries(query).filter(([, value]) => value !== "");
  return given.length === 0 ? path : `${path}?${new URLSearchParams(given).toString()}`;
}

type FieldList = readonly (readonly [name: string, value: string])[];

function withFields(path: string, fields: FieldList): string {
  const query = new URLSearchParams();
  for (const [name, value] of fields) query.append(name, value);
  return query.size === 0 ? path : `${path}?${query.toString()}`;
}

/** What pages link to; also given to every template. */
export const paths = {
  home: () => "/",
  board: (date: string) => `/board/${part(date)}`,
  live: () => "/live",
  crewLive: (id: string) => `/crew/${part(id)}/live`,
  crew: (id: string, language?: Language) => `/crew/${part(id)}${inLanguage(language)}`,
  crewDay: (id: string, date: string, language?: Language) =>
    `/crew/${part(id)}/${part(date)}${inLanguage(language)}`,
  crewReport: (id: string, date: string, language?: Language) =>
    `/crew/${part(id)}/${part(date)}/report${inLanguage(language)}`,
  /** The page as it comes after a report of that key. */
  crewReported: (id: string, date: string, key: string, language?: Language) =>
    withQuery(`/crew/${part(id)}/${part(date)}/report`, {
      ...(language !== undefined && { lang: language }),
      taken: key,
    }),
  crewReports: (id: string) => `/crew/${part(id)}/reports`,
  /** `date`: the day whose work a photo may be of, on the page. */
  crewPhotos: (id: string, date?: string, language?: Language) =>
    withQuery(`/crew/${part(id)}/photos`, {
      ...(date !== undefined && { date }),
      ...(language !== undefined && { lang: language }),
    }),
  crewPhoto: (id: string, photo: number) => `/crew/${part(id)}/photos/${photo}`,
  crewSmallPhoto: (id: string, photo: number) => `/crew/${part(id)}/photos/${photo}/small`,
  photo: (id: number) => `/photos/${id}`,
  smallPhoto: (id: number) => `/photos/${id}/small`,
  printCrewDay: (id: string, date: string, language?: Language) =>
    `/crew/${part(id)}/${part(date)}/print${inLanguage(language)}`,
  printDay: (date: string) => `/print/${part(date)}`,
  jobs: () => "/jobs",
  job: (id: string) => `/jobs/${part(id)}`,
  waiting: () => "/waiting",
  planning: () => "/planning",
  holds: () => "/holds",
  changeHold: (id: string) => `/holds/${part(id)}`,
  liftHold: (id: string) => `/holds/${part(id)}/lift`,
  movePromise: (job: string) => `/jobs/${part(job)}/promised`,
  changeDelivery: (job: string, delivery: string) => `/jobs/${part(job)}/deliveries/${part(delivery)}`,
  taskProgress: (job: string, task: string) => `/jobs/${part(job)}/tasks/${part(task)}`,
  moveTask: (job: string, task: string) => `/jobs/${part(job)}/tasks/${part(task)}/move`,
  movePrice: (job: string, task: string) => `/jobs/${part(job)}/tasks/${part(task)}/move/price`,
  crews: () => "/crews",
  crewLanguage: (crew: string) => `/crews/${part(crew)}/language`,
  daysOff: (crew: string) => `/crews/${part(crew)}/days-off`,
  takeDaysOff: (crew: string) => `/crews/${part(crew)}/days-off/remove`,
  /** `fields`: what of the slip is known already. */
  slip: (fields: FieldList = []) => withFields("/slip", fields),
  /** `fields`: the slip, what is allowed, what is wished for. */
  ways: (fields: FieldList = []) => withFields("/ways", fields),
  lookAtWay: (fields: FieldList = []) => withFields("/ways/look", fields),
  takeWay: () => "/ways/take",
  published: () => "/published",
  undoPublish: () => "/published/undo",
  releaseSheet: () => "/published/release",
  /** `publish`: only the calls of that change. */
  calls: (publish?: number) => withQuery("/calls", publish === undefined ? {} : { publish: String(publish) }),
  tickCall: (id: number) => `/calls/${id}/tick`,
  untickCall: (id: number) => `/calls/${id}/untick`,
  reports: () => "/reports",
  settleReport: (id: number) => `/reports/${id}/settle`,
  unsettleReport: (id: number) => `/reports/${id}/unsettle`,
  /** `query`: what of the record, as the form of that page sends it. */
  record: (query: Readonly<Record<string, string>> = {}) => withQuery("/record", query),
  undo: (version: number) => `/record/${version}/undo`,
  plans: (before?: number) => withQuery("/plans", before === undefined ? {} : { before: String(before) }),
  companyFile: () => "/company-file",
  downloadCompany: () => "/company-file/download",
  previewCompany: () => "/company-file/preview",
  loadCompany: () => "/company-file/load",
  beginWithDemo: () => "/company-file/demo",
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
  feed: (token: string) => `/feed/${part(token)}.ics`,
  makeFeed: (id: string) => `/crew-links/${part(id)}/calendar/make`,
  renewFeed: (id: string) => `/crew-links/${part(id)}/calendar/renew`,
  revokeFeed: (id: string) => `/crew-links/${part(id)}/calendar/revoke`,
  houseLink: (token: string) => `/house/${part(token)}`,
  houseLinks: () => "/house-links",
  makeHouseLink: (id: string) => `/house-links/${part(id)}/make`,
  renewHouseLink: (id: string) => `/house-links/${part(id)}/renew`,
  revokeHouseLink: (id: string) => `/house-links/${part(id)}/revoke`,
  people: () => "/people",
  changeRole: (id: number) => `/people/${id}/role`,
  disablePerson: (id: number) => `/people/${id}/disable`,
  enablePerson: (id: number) => `/people/${id}/enable`,
  resetLink: (id: number) => `/people/${id}/reset-link`,
  file: (name: string) => `/static/${fileStamp()}/${name}`,
} as const;
