/**
 * The shipped app on a free port of this machine, on a company file of its own in a temporary folder, with a clock that
 * stands still. Nothing else differs from what `daylap serve` runs.
 *
 *   const server = await startServer(aCompany(), "2026-12-07T18:00");
 *   await fetch(server.url + "/holds");
 *   await server.stop();
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { formatFault } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant } from "../../src/domain/time.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import type { Desk } from "../../src/services/desk.js";
import { openFileDesk } from "../../src/services/file-desk.js";
import { createApp } from "../../src/web/app.js";

const ZONE = "America/New_York";

export interface TestServer {
  /** Without a slash at the end. */
  readonly url: string;
  readonly desk: Desk;
  /** The company file that the server keeps. */
  readonly path: string;
  readonly stop: () => Promise<void>;
}

/** Serves a company as of a wall time in New York (or an instant with an offset). */
export async function startServer(source: unknown, asOf: string): Promise<TestServer> {
  const folder = await mkdtemp(join(tmpdir(), "daylap-server-"));
  const path = join(folder, "company.json");
  await writeFile(path, JSON.stringify(source));
  const clock = makeFixedClock(present(parseInstant(asOf, ZONE), `the time ${asOf}`));
  const opened = await openFileDesk({ path, seed: 1, iterations: 0, clock });
  if (!opened.ok) {
    const { error } = opened;
    throw new Error(error.kind === "faulty" ? error.faults.map(formatFault).join("\n") : error.sentence);
  }
  const server = createServer(createApp(opened.value));
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
    await opened.value.close();
    await rm(folder, { recursive: true, force: true });
  };
  return { url: `http://127.0.0.1:${port}`, desk: opened.value, path, stop };
}

/** Serves the demo company, laid around the date of `asOf`. */
export async function startDemoServer(asOf: string): Promise<TestServer> {
  const date = civilDateAt(present(parseInstant(asOf, ZONE), `the time ${asOf}`), ZONE);
  return startServer(layDemo(await readDemoTemplate(), date), asOf);
}
