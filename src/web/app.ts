/**
 * The web app on its services, ready to be listened to; it does not listen itself. Tests run exactly this app.
 */
import express from "express";
import { PRODUCT_NAME } from "../domain/product.js";
import type { Person } from "../domain/person.js";
import { NO_CALLS, type Calls } from "../services/calls.js";
import type { Desk } from "../services/desk.js";
import { machineClock, type Clock } from "../services/clock.js";
import { NO_FEEDS, type Feeds } from "../services/feeds.js";
import type { People } from "../services/people.js";
import { NO_PHOTOS, type Photos } from "../services/photos.js";
import { NO_RIPPLES, type Ripples } from "../services/ripples.js";
import { NO_SITE_REPORTS, type SiteReports } from "../services/site-reports.js";
import type { CompanyRecord } from "../services/record.js";
import { accountRoutes } from "./account-routes.js";
import { callRoutes } from "./call-routes.js";
import { crewLinkRoutes } from "./crew-link-routes.js";
import { companyFileRoutes } from "./company-file-routes.js";
import { crewReportRoutes } from "./crew-report-routes.js";
import { crewRoutes } from "./crew-routes.js";
import { daysOffRoutes } from "./days-off-routes.js";
import { errorPage, logToStandardError, notFound, type BugLog } from "./error-pages.js";
import { feedRoutes } from "./feed-routes.js";
import { gate } from "./gate.js";
import { holdRoutes } from "./hold-routes.js";
import { houseLinkRoutes, houseRoutes } from "./house-link-routes.js";
import { invitationRoutes } from "./invitation-routes.js";
import { jobRoutes } from "./job-routes.js";
import { liveRoutes } from "./live-routes.js";
import { LiveStreams } from "./live-streams.js";
import { makeMetrics } from "./metrics.js";
import { moveRoutes } from "./move-routes.js";
import { needsCompany } from "./needs-company.js";
import { officeRoutes } from "./office-routes.js";
import { operationRoutes } from "./operation-routes.js";
import { packAnswers } from "./packing.js";
import { paths } from "./paths.js";
import { peopleRoutes } from "./people-routes.js";
import { photoRoutes } from "./photo-routes.js";
import { printRoutes } from "./print-routes.js";
import { publishRoutes } from "./publish-routes.js";
import { recordRoutes } from "./record-routes.js";
import { countReports, reportRoutes } from "./report-routes.js";
import { noteAnswers, type NoteAnswer } from "./request-log.js";
import { ourMethodsOnly, sameOriginOnly, securityHeaders } from "./security.js";
import { signInRoutes } from "./sign-in-routes.js";
import { VIEWS_FOLDER } from "./shipped-files.js";
import { serveFiles } from "./static-files.js";
import { waysOutRoutes } from "./ways-out-routes.js";
import { NOBODY } from "./who.js";

export interface AppServices {
  readonly desk: Desk;
  readonly people: People;
  /** Without it, nothing is on record. */
  readonly record?: CompanyRecord;
  /** Without it, there are no calls to make. */
  readonly calls?: Calls;
  /** Without it, a calendar is told what stands, and not what has been changed or moved away. */
  readonly feeds?: Feeds;
  /** Without it, there are no photos, and none is taken. */
  readonly photos?: Photos;
  /** Without it, no report is shown; the desk takes them. */
  readonly reports?: SiteReports;
  /** Without it, a report is shown without what it has moved. */
  readonly ripples?: Ripples;
  /** Whether the database answers; without it, it is taken to. */
  readonly isReady?: () => Promise<boolean>;
}

export interface AppOptions {
  /** Told of each answer, for a log. */
  readonly noteAnswer?: NoteAnswer;
  /** Where bugs go; standard error where left out. */
  readonly log?: BugLog;
  /** Aborted when the server is being stopped: then streams, which have no end of their own, end. */
  readonly stopped?: AbortSignal;
  /** By which a demo company is laid; the machine's where left out. */
  readonly clock?: Clock;
  /** Whoever reaches the app is this person, without signing in. The caller sees to it that only this machine reaches it. */
  readonly automatic?: Person;
  /**
   * Which proxies in front of the app are believed when they say that a request came over TLS, and from where: express's
   * "trust proxy" (a count of them, or their addresses). None where left out.
   */
  readonly trustProxy?: number | string;
}

const NOTHING_ON_RECORD: CompanyRecord = {
  list: () => Promise.resolve([]),
  find: () => Promise.resolve(undefined),
  names: () => Promise.resolve({ personNames: [], kinds: [] }),
  listPlans: () => Promise.resolve([]),
};
const ALWAYS = (): Promise<boolean> => Promise.resolve(true);

function makeLiveStreams(
  { desk, record, reports }: Pick<Required<AppServices>, "desk" | "record" | "reports">,
  { log, stopped }: AppOptions,
): LiveStreams {
  const logBug = log ?? logToStandardError;
  const streams = new LiveStreams(desk, record, reports, (error) => logBug("live", error));
  stopped?.addEventListener("abort", () => streams.close());
  return streams;
}

/** The whole app. */
export function createApp(
  {
    desk,
    people,
    record = NOTHING_ON_RECORD,
    calls = NO_CALLS,
    feeds = NO_FEEDS,
    photos = NO_PHOTOS,
    reports = NO_SITE_REPORTS,
    ripples = NO_RIPPLES,
    isReady = ALWAYS,
  }: AppServices,
  options: AppOptions = {},
): express.Express {
  const app = express();
  app.disable("x-powered-by");
  // No page is kept by a browser, so that none needs a tag to ask by; files have tags of their own.
  app.disable("etag");
  app.set("view engine", "ejs");
  app.set("views", VIEWS_FOLDER);
  app.enable("view cache");
  app.set("trust proxy", options.trustProxy ?? false);
  // What a page offers where nobody has passed the gate yet: nothing.
  const unknown = { who: NOBODY, may: () => false, openReports: 0 };
  Object.assign(app.locals, { paths, productName: PRODUCT_NAME, ...unknown });

  const metrics = makeMetrics();
  app.use(
    noteAnswers((answer) => {
      metrics.countAnswer(answer);
      options.noteAnswer?.(answer);
    }),
  );
  serveFiles(app);
  app.use(securityHeaders);
  app.use(ourMethodsOnly);
  app.use(packAnswers());
  app.use(operationRoutes(isReady, metrics));
  app.use(sameOriginOnly);
  app.use(gate(people, options));
  app.use(countReports(reports));
  app.use(signInRoutes(people));
  app.use(invitationRoutes(people));
  app.use(accountRoutes(people));
  app.use(peopleRoutes(people));
  app.use(companyFileRoutes(desk, options.clock ?? machineClock));
  app.use(feedRoutes(desk, people, feeds));
  app.use(houseRoutes(desk, people));
  app.use(needsCompany(desk));
  app.use(crewLinkRoutes(desk, people));
  app.use(houseLinkRoutes(desk, people));
  app.use(liveRoutes(people, makeLiveStreams({ desk, record, reports }, options)));
  app.use(officeRoutes(desk));
  app.use(jobRoutes(desk, { photos, reports, ripples }));
  app.use(moveRoutes(desk));
  app.use(daysOffRoutes(desk));
  app.use(waysOutRoutes(desk));
  app.use(publishRoutes(desk));
  app.use(callRoutes(desk, calls));
  app.use(reportRoutes(desk, { reports, ripples, photos }));
  app.use(recordRoutes(desk, record, photos));
  // Before the day sheets, whose address has a date in the same place.
  app.use(photoRoutes(desk, photos));
  app.use(crewReportRoutes(desk, { reports, ripples }));
  app.use(crewRoutes(desk));
  app.use(printRoutes(desk));
  app.use(holdRoutes(desk));
  app.use(notFound);
  app.use(errorPage(options.log ?? logToStandardError));
  return app;
}
