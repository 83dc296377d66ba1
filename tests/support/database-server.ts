/**
 * Before the first test: one embedded PostgreSQL server for the whole run, in a temporary folder. After the last: it is
 * stopped and its folder removed, and on a second server what the run left there is dropped. Where the server does not
 * start, only the tests that need it fail, each with the reason.
 */
import type { TestProject } from "vitest/node";
import { openDatabase } from "../../src/store/database.js";
import { startEmbeddedServer } from "../../src/store/embedded/embedded-server.js";
import {
  makeServerFolder,
  removeLeftFolders,
  removeServerFolder,
  removeServerFolderNow,
} from "./server-folder.js";

declare module "vitest" {
  interface ProvidedContext {
    /** The URL of the run's own server, or why there is none. */
    readonly embeddedUrl: { readonly url: string } | { readonly failure: string };
    /** With what the name of every database of this run begins. */
    readonly testRun: string;
  }
}

/** Every test worker has a few apps with a few connections each. */
const MOST_CONNECTIONS = 400;

export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  await removeLeftFolders();
  const folder = await makeServerFolder();
  // Vitest does not wait for a tear-down when it is interrupted.
  const leave = (): void => removeServerFolderNow(folder);
  process.once("exit", leave);
  const started = await startEmbeddedServer(folder, { mostConnections: MOST_CONNECTIONS });
  const testRun = `daylap_test_${process.pid}_${Date.now().toString(36)}`;
  project.provide("embeddedUrl", started.ok ? { url: started.value.url } : { failure: started.error });
  project.provide("testRun", testRun);
  return async () => {
    if (started.ok) await started.value.stop();
    await removeServerFolder(folder);
    process.off("exit", leave);
    const second = process.env["TEST_DATABASE_URL"] ?? "";
    if (second !== "") await dropAll(second, testRun);
  };
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
