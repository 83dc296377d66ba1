/**
 * The app on the company's database, or on the demo company. Prints its address, and ends well on an interrupt or a
 * request to terminate: no new requests, those under way are answered, changes and plans end.
 */
import type { Logger } from "pino";
import type { Actor, Person } from "../domain/person.js";
import { PRODUCT_NAME } from "../domain/product.js";
import type { Result } from "../domain/result.js";
import type { Minute } from "../domain/time.js";
import { openCalls } from "../services/calls.js";
import { machineClock, makeFixedClock } from "../services/clock.js";
import type { DatabasePlace } from "../services/company-database.js";
import { openDesk, type OpenDesk } from "../services/company-desk.js";
import { openFeeds } from "../services/feeds.js";
import { openPeople } from "../services/people.js";
import { openPhotos } from "../services/photos.js";
import { IMPROVING, IMPROVING_BY_COUNT, QUICK_ITERATIONS, USUAL_SEED } from "../services/planning-budget.js";
import { openRecord } from "../services/record.js";
import { openRipples } from "../services/ripples.js";
import { openSiteReports } from "../services/site-reports.js";
import { findTimeZone } from "../store/company-store.js";
import type { Database } from "../store/database.js";
import { createApp } from "../web/app.js";
import { paths } from "../web/paths.js";
import { refuse } from "./command.js";
import { nameDatabasePlace, onDatabase } from "./database-place.js";
import { listenUntilStopped } from "./listen.js";
import { makeLog } from "./log.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

/** Whoever looks at the demo, which signs in by itself. */
const DEMO_PERSON: Person = {
  id: 0,
  name: "Demo dispatcher",
  account: "demo",
  role: "owner",
  version: 1,
  hasPassword: false,
  isDisabled: false,
};
const COMMAND_LINE: Actor = { personId: null, personName: "Command line" };

/** What is served, and how. */
export interface Service {
  readonly place: DatabasePlace;
  readonly isDemo: boolean;
  /** By the clock of a company in that zone; undefined where the clock goes. */
  readonly asOfIn: (zone: string) => Result<Minute | undefined, string>;
  /** The JSON of a company file for a database that has none. */
  readonly firstCompany: unknown;
  /** Where that company is; UTC where there is none. */
  readonly firstZone: string;
  readonly address: { readonly port: number; readonly host: string };
  /** How many proxies in front of the app say from where a request comes. */
  readonly proxies: number;
}

/** Serves until it is asked to stop. */
export async function serve(service: Service, output: Output): Promise<ExitCode> {
  const log = makeLog(service.isDemo ? "error" : "info");
  return onDatabase(service.place, output, async (database) => {
    // Of a company that is there already, it is its clock that counts.
    const read = service.asOfIn((await findTimeZone(database)) ?? service.firstZone);
    if (!read.ok) return refuse(output, [read.error]);
    const asOf = read.value;
    const desk = await openDesk(database, {
      log: (error) => log.error({ err: error }, "bug"),
      seed: USUAL_SEED,
      iterations: QUICK_ITERATIONS,
      improving: asOf === undefined ? IMPROVING : IMPROVING_BY_COUNT,
      clock: asOf === undefined ? machineClock : makeFixedClock(asOf),
    });
    try {
      return await serveDesk(service, asOf, database, desk, log, output);
    } finally {
      await desk.close();
    }
  });
}

async function serveDesk(
  service: Service,
  asOf: Minute | undefined,
  database: Database,
  desk: OpenDesk,
  log: Logger,
  output: Output,
): Promise<ExitCode> {
  const { firstCompany, isDemo, address, place, proxies } = service;
  if (firstCompany !== undefined && desk.isEmpty) await desk.load(firstCompany, COMMAND_LINE, "");
  const people = openPeople(database);
  const invitation = isDemo ? undefined : await people.firstRun();
  const stop = new AbortController();
  const ripples = openRipples(database, { log: (error) => log.error({ err: error }, "bug") });
  const app = createApp(
    {
      desk,
      people,
      record: openRecord(database),
      calls: openCalls(database),
      feeds: openFeeds(database),
      photos: openPhotos(database, asOf === undefined ? machineClock : makeFixedClock(asOf)),
      ripples,
      reports: openSiteReports(database, asOf === undefined ? machineClock : makeFixedClock(asOf)),
      isReady: () => answers(database),
    },
    {
      log: (reference, error) => log.error({ reference, err: error }, "bug"),
      noteAnswer: (answer) => log.info(answer, "answered"),
      stopped: stop.signal,
      ...(asOf !== undefined && { clock: makeFixedClock(asOf) }),
      ...(isDemo && { automatic: DEMO_PERSON }),
      ...(proxies > 0 && { trustProxy: proxies }),
    },
  );
  const tell = (url: string): void => {
    output.out(`${PRODUCT_NAME} is at ${url}\nDatabase: ${nameDatabasePlace(place)}\n`);
    if (isDemo) output.out("This is the demo: whoever is on this machine is signed in.\n");
    if (invitation !== undefined) {
      const link = new URL(paths.invitation(invitation), url).href;
      output.out(
        `Nobody is the owner yet. Open this link, which works once, and set a password:\n  ${link}\n`,
      );
    }
    output.out("Stop it with Ctrl+C.\n");
  };
  const stopped = await listenUntilStopped(app, address, tell, () => stop.abort());
  await ripples.close();
  return stopped.ok ? GOOD : refuse(output, [stopped.error]);
}

async function answers(database: Database): Promise<boolean> {
  try {
    await database.query("select 1");
    return true;
  } catch {
    // What went wrong shows with the first page that needs the database.
    return false;
  }
}
