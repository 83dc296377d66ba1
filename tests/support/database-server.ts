/**
 * Before the first test: one embedded PostgreSQL server for the whole run, in a temporary folder. After the last: it is
 * stopped and its folder removed, and on a second server what the run left there is dropped. Where the server does not
 * start, only the tests that need it fail, each with the reason.
 */
import { chmod, mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TestProject } from "vitest/node";
import { openDatabase } from "../../src/store/database.js";
import { startEmbeddedServer } from "../../src/store/embedded/embedded-server.js";

declare module "vitest" {
  interface ProvidedContext {
    /** The URL of the run's own server, or why there is none. */
    readonly embeddedUrl: { readonly url: string } | { readonly failure: string };
    /** With what the name of every database of this run begins. */
    readonly testRun: string;
  }
}

const FOLDER = "daylap-test-server-";
/** Every test worker has a few apps with a few connections each. */
const MOST_CONNECTIONS = 400;

export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  await removeLeftBehind();
  const folder = await mkdtemp(join(tmpdir(), `${FOLDER}${process.pid}-`));
  // The server may run as another user, who must get through.
  await chmod(folder, 0o711);
  const started = await startEmbeddedServer(folder, { mostConnections: MOST_CONNECTIONS });
  const testRun = `daylap_test_${process.pid}_${Date.now().toString(36)}`;
  project.provide("embeddedUrl", started.ok ? { url: started.value.url } : { failure: started.error });
  project.provide("testRun", testRun);
  return async () => {
    if (started.ok) await started.value.stop();
    await rm(folder, { recursive: true, force: true });
    const second = process.env["TEST_DATABASE_URL"];
    if (second !== undefined) await dropAll(second, testRun);
  };
}

/** A run that was killed could not stop its server. */
async function removeLeftBehind(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    const pid = Number.parseInt(name.slice(FOLDER.length), 10);
    if (!name.startsWith(FOLDER) || isAlive(pid)) continue;
    const folder = join(tmpdir(), name);
    // Taken over, so that it can be stopped; one that cannot be is somebody else's.
    const taken = await startEmbeddedServer(folder);
    if (!taken.ok) continue;
    await taken.value.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM";
  }
}

async function dropAll(url: string, testRun: string): Promise<void> {
  const database = openDatabase(url);
  try {
    const names = await database.query<{ datname: string }>(
      "select datname from pg_database where starts_with(datname, $1)",
      [testRun],
    );
    for (const { datname } of names)
      await database.query(`drop database if exists "${datname}" with (force)`);
  } finally {
    await database.close();
  }
}
