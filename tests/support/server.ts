/**
 * The shipped app on a free port of this machine, on a database of its own, with a clock that stands still. Whoever asks
 * is the owner, as in the demo. Nothing else differs from what `daylap serve` runs.
 *
 *   const server = await startServer(aCompany(), "2026-12-07T18:00");
 *   await fetch(server.url + "/holds");
 *   await server.stop();
 */
import { formatFault } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant } from "../../src/domain/time.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { openDesk } from "../../src/services/company-desk.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import type { Desk } from "../../src/services/desk.js";
import { openPeople } from "../../src/services/people.js";
import { openDatabase } from "../../src/store/database.js";
import { startAppWith, TEST_OWNER } from "../web/running-app.js";
import { makeTestDatabase } from "./database.js";

const ZONE = "America/New_York";

export interface TestServer {
  /** Without a slash at the end. */
  readonly url: string;
  readonly desk: Desk;
  readonly stop: () => Promise<void>;
}

/** Serves a company as of a wall time in New York (or an instant with an offset). */
export async function startServer(source: unknown, asOf: string): Promise<TestServer> {
  const clock = makeFixedClock(present(parseInstant(asOf, ZONE), `the time ${asOf}`));
  const testDatabase = await makeTestDatabase();
  const database = openDatabase(testDatabase.url);
  const desk = await openDesk(database, { seed: 1, iterations: 0, clock });
  const loaded = await desk.load(source, { personId: null, personName: "The test" }, "");
  if (!loaded.ok) throw new Error(loaded.error.map(formatFault).join("\n"));
  const app = await startAppWith({ desk, people: openPeople(database) }, { automatic: TEST_OWNER });
  const stop = async (): Promise<void> => {
    await app.close();
    await desk.close();
    await database.close();
    await testDatabase.drop();
  };
  return { url: app.url, desk, stop };
}

/** Serves the demo company, laid around the date of `asOf`. */
export async function startDemoServer(asOf: string): Promise<TestServer> {
  const date = civilDateAt(present(parseInstant(asOf, ZONE), `the time ${asOf}`), ZONE);
  return startServer(layDemo(await readDemoTemplate(), date), asOf);
}
