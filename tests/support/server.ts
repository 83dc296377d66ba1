/**
 * The shipped app on a free port of this machine, on a database of its own, with a clock that stands still. Nothing else
 * differs from what `daylap serve` runs. Whoever asks is signed in as owner, as in the demo.
 *
 *   const server = await startServer(aCompany(), "2026-12-07T18:00");
 *   await fetch(server.url + "/holds");
 *   await server.stop();
 */
import { createServer } from "node:http";
import { formatFault } from "../../src/domain/company-file.js";
import type { Person } from "../../src/domain/person.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant } from "../../src/domain/time.js";
import { openCalls } from "../../src/services/calls.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { openDesk } from "../../src/services/company-desk.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import type { Desk } from "../../src/services/desk.js";
import { openFeeds } from "../../src/services/feeds.js";
import { openPeople } from "../../src/services/people.js";
import { openPhotos } from "../../src/services/photos.js";
import { openRecord } from "../../src/services/record.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { createApp, type AppOptions } from "../../src/web/app.js";
import { makeTestDatabase } from "./database.js";
import { sharedRipples } from "./shared-ripples.js";
import { sharedWorker } from "./shared-worker.js";

const ZONE = "America/New_York";
const LOADER = { personId: null, personName: "Test" };

/** Whoever asks, where a test is not about people. */
const OWNER: Person = {
  id: 0,
  name: "Robin",
  account: "robin",
  role: "owner",
  version: 1,
  hasPassword: true,
  isDisabled: false,
};

export interface TestServer {
  /** Without a slash at the end. */
  readonly url: string;
  readonly desk: Desk;
  readonly database: Database;
  readonly stop: () => Promise<void>;
}

/** Serves a company as of a wall time in New York (or an instant with an offset). */
export async function startServer(
  source: unknown,
  asOf: string,
  options: AppOptions = { automatic: OWNER },
): Promise<TestServer> {
  const testDatabase = await makeTestDatabase();
  const database = openDatabase(testDatabase.url);
  const clock = makeFixedClock(present(parseInstant(asOf, ZONE), `the time ${asOf}`));
  const desk = await openDesk(database, { seed: 1, iterations: 0, clock, worker: sharedWorker() });
  const loaded = await desk.load(source, LOADER, "");
  if (!loaded.ok) throw new Error(loaded.error.map(formatFault).join("\n"));
  const server = createServer(
    createApp(
      {
        desk,
        people: openPeople(database),
        record: openRecord(database),
        calls: openCalls(database),
        feeds: openFeeds(database),
        photos: openPhotos(database, clock),
        ripples: sharedRipples(database),
        reports: openSiteReports(database, clock),
      },
      { clock, ...options },
    ),
  );
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(0, "127.0.0.1", resolve);
  });
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  const stop = async (): Promise<void> => {
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeAllConnections();
    await closed;
    await desk.close();
    await database.close();
    await testDatabase.drop();
  };
  return { url: `http://127.0.0.1:${port}`, desk, database, stop };
}

/** Serves the demo company, laid around the date of `asOf`. */
export async function startDemoServer(asOf: string, options?: AppOptions): Promise<TestServer> {
  const date = civilDateAt(present(parseInstant(asOf, ZONE), `the time ${asOf}`), ZONE);
  return startServer(layDemo(await readDemoTemplate(), date), asOf, options);
}
