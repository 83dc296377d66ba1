/**
 * The shipped app with a real desk behind it, as of an afternoon: what people type, and what becomes of it. Whoever asks
 * is Robin, an owner; Casey works at another desk.
 */
import { afterEach } from "vitest";
import { present } from "../../src/domain/result.js";
import { parseInstant } from "../../src/domain/time.js";
import { openCalls } from "../../src/services/calls.js";
import { makeFixedClock } from "../../src/services/clock.js";
import type { CompanyChange } from "../../src/services/changes/company-change.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { openPeople } from "../../src/services/people.js";
import { openPhotos } from "../../src/services/photos.js";
import { openRecord, type CompanyRecord } from "../../src/services/record.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../support/company-builder.js";
import { CASEY, useDesks } from "../support/desk.js";
import { sharedRipples } from "../support/shared-ripples.js";
import { startAppWith, TEST_OWNER, type RunningApp } from "./running-app.js";

export const AFTERNOON = present(parseInstant("2026-12-03T16:00", "America/New_York"), "the afternoon");

/** Two crews, two houses: one with a delivery, a task under way, a wait and a promised date; a wet day. */
export const EDITED_COMPANY: unknown = aCompany({
  crews: [
    aCrew({ off: [{ from: "2026-12-24", to: "2026-12-26", why: "holidays" }] }),
    aCrew({ id: "birch", name: "Birch", trades: { stone: 1 } }),
  ],
  jobs: [
    aJob({
      id: "harbor-12",
      name: "12 Harbor Road",
      promised: "2026-12-04",
      deliveries: [{ id: "d1", what: "windows", expected: "2026-12-02" }],
      tasks: [
        aTask({ id: "t1", title: "Side the front", needs: ["d1"] }),
        aTask({ id: "t2", title: "Trim", status: "under-way", doneBy: "alder", leftHours: 4 }),
        aWait({ id: "w1" }),
      ],
    }),
    aJob({ id: "cove-3", name: "3 Cove Street" }),
  ],
  holds: [{ id: "wet", from: "2026-12-09", to: "2026-12-10", trades: "outdoor", jobs: "all", why: "rain" }],
});

export interface Editing {
  readonly app: RunningApp;
  readonly desk: OpenDesk;
  readonly record: CompanyRecord;
  /** The page as text. */
  page(path: string): Promise<string>;
  /** Posts a form with the version that stands of a part. */
  post(
    path: string,
    fields: Readonly<Record<string, string>>,
  ): Promise<{ readonly status: number; readonly location: string | null; readonly page: string }>;
  /** What Casey does meanwhile. */
  casey(change: CompanyChange): Promise<void>;
}

/** Call in a file or a describe block; everything is closed after each test. */
export function useEditing(): { open(company?: unknown): Promise<Editing> } {
  const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => new Date(AFTERNOON * 60_000) });
  const apps: RunningApp[] = [];
  afterEach(async () => {
    await Promise.all(apps.splice(0).map((app) => app.close()));
  });
  return {
    async open(company) {
      const desk = await desks.open(company);
      const database = await desks.database();
      const record = openRecord(database);
      const app = await startAppWith(
        {
          desk,
          people: openPeople(database),
          record,
          calls: openCalls(database, () => new Date(AFTERNOON * 60_000)),
          photos: openPhotos(database, makeFixedClock(AFTERNOON)),
          ripples: sharedRipples(database),
          reports: openSiteReports(database, makeFixedClock(AFTERNOON)),
        },
        { automatic: TEST_OWNER, clock: makeFixedClock(AFTERNOON) },
      );
      apps.push(app);
      return {
        app,
        desk,
        record,
        page: async (path) => (await app.get(path)).text(),
        post: async (path, fields) => {
          const response = await app.post(path, fields);
          return {
            status: response.status,
            location: response.headers.get("location"),
            page: await response.text(),
          };
        },
        casey: async (change) => {
          const made = await desk.make(change, CASEY);
          if (!made.ok) throw new Error(JSON.stringify(made.error));
        },
      };
    },
  };
}

/** The version that a page put into the form which is sent to an address. */
export function versionIn(page: string, action: string): string {
  const form = page.slice(page.indexOf(`action="${action}"`));
  return present(/name="version" value="(\d+)"/.exec(form)?.[1], `the version in the form to ${action}`);
}
