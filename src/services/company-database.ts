/**
 * The database of a company, ready to be used: the company's own PostgreSQL where its URL is given, otherwise the one
 * that comes with the app, in a folder. Brought to the shape that this app knows before anybody gets it.
 */
import { fail, ok, type Result } from "../domain/result.js";
import { DatabaseFailure } from "../store/database-failure.js";
import { openDatabase, type Database } from "../store/database.js";
import { findRunningServer, startEmbeddedServer } from "../store/embedded/embedded-server.js";
import { migrate, readMigrations } from "../store/migrate.js";

/** Where the database is. */
export type DatabasePlace =
  { readonly kind: "url"; readonly url: string } | { readonly kind: "folder"; readonly folder: string };

export interface CompanyDatabase {
  readonly database: Database;
  /** Ends all connections, and stops the server where it was started here. */
  close(): Promise<void>;
}

export interface DatabaseOptions {
  /** Told in a sentence when the server in the folder is lost and does not come back at once. */
  readonly onTrouble?: (sentence: string) => void;
  /** Whether a server that an app serves already will do: for whoever only reads. */
  readonly mayShare?: boolean;
}

/** Opens it; fails with a sentence that says what is wrong and what to do. */
export async function openCompanyDatabase(
  place: DatabasePlace,
  options: DatabaseOptions = {},
): Promise<Result<CompanyDatabase, string>> {
  if (place.kind === "url") return openMigrated(place.url, () => Promise.resolve());
  const running = options.mayShare === true ? await findRunningServer(place.folder) : undefined;
  if (running !== undefined) return openMigrated(running, () => Promise.resolve());
  const { onTrouble } = options;
  const server = await startEmbeddedServer(place.folder, onTrouble === undefined ? {} : { onTrouble });
  if (!server.ok) return server;
  return openMigrated(server.value.url, () => server.value.stop());
}

async function openMigrated(
  url: string,
  stop: () => Promise<void>,
): Promise<Result<CompanyDatabase, string>> {
  const database = openDatabase(url);
  const close = async (): Promise<void> => {
    await database.close();
    await stop();
  };
  let isReady = false;
  try {
    const migrated = await migrate(database, await readMigrations());
    if (!migrated.ok) return migrated;
    isReady = true;
    return ok({ database, close });
  } catch (error) {
    if (!(error instanceof DatabaseFailure)) throw error;
    const reason = error.cause instanceof Error ? ` (${error.cause.message})` : "";
    return fail(`The database cannot be opened: ${error.message}${reason}`);
  } finally {
    if (!isReady) await close();
  }
}
