/**
 * Databases of the tests: each test file or test has its own, copied from one that has been migrated once in the run.
 * They lie on the run's embedded server and, where TEST_DATABASE_URL names one, on a second PostgreSQL server: the
 * contract of the store is tested with `describe.each(listTestEngines())`.
 */
import { randomUUID } from "node:crypto";
import { inject } from "vitest";
import { openDatabase, type Database, type HeldConnection } from "../../src/store/database.js";
import { migrate, readMigrations } from "../../src/store/migrate.js";

export type TestEngine = "embedded" | "TEST_DATABASE_URL";

export interface TestDatabase {
  readonly url: string;
  /** Cuts off whoever still uses it. */
  drop(): Promise<void>;
}

/** Any number that the app itself does not lock. */
const TEMPLATE_LOCK = 4630_9001;

/** The PostgreSQL servers of this run. */
export function listTestEngines(): readonly TestEngine[] {
  return (process.env["TEST_DATABASE_URL"] ?? "") === "" ? ["embedded"] : ["embedded", "TEST_DATABASE_URL"];
}

/** A database with all migrations applied and nothing in it. Whoever makes it drops it. */
export async function makeTestDatabase(engine: TestEngine = "embedded"): Promise<TestDatabase> {
  return withServer(engine, async (server, url) => {
    const template = `${inject("testRun")}_template`;
    await makeTemplate(server, url, template);
    return create(server, url, `template "${template}"`);
  });
}

/** A database without a table. Whoever makes it drops it. */
export async function makeEmptyTestDatabase(engine: TestEngine = "embedded"): Promise<TestDatabase> {
  return withServer(engine, (server, url) => create(server, url, "template template0"));
}

function urlOf(engine: TestEngine): string {
  if (engine === "embedded") {
    // Undefined where vitest was started without the configuration, whatever its type says.
    const embedded: ReturnType<typeof inject<"embeddedUrl">> | undefined = inject("embeddedUrl");
    if (embedded === undefined) throw new Error("Run the tests with --config tests/vitest.config.ts.");
    if ("failure" in embedded) throw new Error(embedded.failure);
    return embedded.url;
  }
  const url = process.env[engine];
  if (url === undefined) throw new Error(`${engine} is not set.`);
  return url;
}

async function withServer<T>(
  engine: TestEngine,
  work: (server: Database, url: string) => Promise<T>,
): Promise<T> {
  const url = urlOf(engine);
  const server = openDatabase(url);
  try {
    return await work(server, url);
  } finally {
    await server.close();
  }
}

async function create(server: Database, serverUrl: string, options: string): Promise<TestDatabase> {
  const name = `${inject("testRun")}_${randomUUID().slice(0, 8)}`;
  await server.query(`create database "${name}" ${options}`);
  return {
    url: urlFor(serverUrl, name),
    drop: async () => {
      const again = openDatabase(serverUrl);
      try {
        await again.query(`drop database if exists "${name}" with (force)`);
      } finally {
        await again.close();
      }
    },
  };
}

/** Once in a run, whichever of its processes comes first. */
async function makeTemplate(server: Database, serverUrl: string, name: string): Promise<void> {
  const connection = await server.connect();
  try {
    await connection.query("select pg_advisory_lock($1)", [TEMPLATE_LOCK]);
    if (await isThere(connection, name)) return;
    // Under another name until it is migrated: a failing migration must fail every test, not only the first.
    const making = `${name}_making`;
    await connection.query(`drop database if exists "${making}" with (force)`);
    await connection.query(`create database "${making}" template template0`);
    const database = openDatabase(urlFor(serverUrl, making));
    try {
      const migrated = await migrate(database, await readMigrations());
      if (!migrated.ok) throw new Error(migrated.error);
    } finally {
      await database.close();
    }
    await connection.query(`alter database "${making}" rename to "${name}"`);
  } finally {
    await connection.release();
  }
}

async function isThere(connection: HeldConnection, name: string): Promise<boolean> {
  return (await connection.query("select 1 from pg_database where datname = $1", [name])).length > 0;
}

function urlFor(serverUrl: string, name: string): string {
  const url = new URL(serverUrl);
  url.pathname = `/${name}`;
  return url.href;
}
