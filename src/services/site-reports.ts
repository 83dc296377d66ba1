/** Reports from site as pages read them, and the office's mark that it is done with one. */
import type { SiteReport } from "../domain/site-report.js";
import { addDays, dayStart, type CivilDate } from "../domain/time.js";
import type { Actor } from "../domain/person.js";
import type { Database } from "../store/database.js";
import { machineClock, type Clock } from "./clock.js";
import { findReport, SiteReportStore } from "../store/site-report-store.js";

export interface SiteReports {
  /** Those that the office has not done with first, then the newest first. */
  list(limit: number): Promise<readonly SiteReport[]>;
  ofJob(job: string): Promise<readonly SiteReport[]>;
  /** What a crew has said about a date of `zone` or on it, the newest first. */
  ofCrewDay(crew: string, date: CivilDate, zone: string): Promise<readonly SiteReport[]>;
  /** The report of that key. */
  find(key: string): Promise<SiteReport | undefined>;
  /** How many the office has not done with, and a number that is another one after each report and each mark of the office. */
  standing(): Promise<{ readonly open: number; readonly mark: number }>;
  /** Undefined where there is no such report. */
  settle(id: number, by: Actor): Promise<SiteReport | undefined>;
  unsettle(id: number): Promise<SiteReport | undefined>;
}

/** Far more than a crew says in a day, and than a house has. */
const MOST_SHOWN = 100;

/** The reports of a database that has been migrated. `clock`: when one is settled. */
export function openSiteReports(database: Database, clock: Clock = machineClock): SiteReports {
  const store = new SiteReportStore(database);
  const toDate = (date: CivilDate, zone: string): Date => new Date(dayStart(date, zone) * 60_000);
  return {
    list: (limit) => store.list(limit),
    ofJob: (job) => store.listOfJob(job, MOST_SHOWN),
    ofCrewDay: (crew, date, zone) =>
      store.listOfCrewDay(
        crew,
        { date, from: toDate(date, zone), to: toDate(addDays(date, 1), zone) },
        MOST_SHOWN,
      ),
    find: (key) => findReport(database, key),
    standing: () => store.standing(),
    settle: (id, by) => store.settle(id, { at: new Date(clock() * 60_000), by: by.personName }),
    unsettle: (id) => store.settle(id, null),
  };
}

/** Where there is no database: none. */
export const NO_SITE_REPORTS: SiteReports = {
  list: () => Promise.resolve([]),
  ofJob: () => Promise.resolve([]),
  ofCrewDay: () => Promise.resolve([]),
  find: () => Promise.resolve(undefined),
  standing: () => Promise.resolve({ open: 0, mark: 0 }),
  settle: () => Promise.resolve(undefined),
  unsettle: () => Promise.resolve(undefined),
};
