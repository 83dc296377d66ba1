/**
 * The PostgreSQL server that comes with the app, for whoever has none: made, started and looked after in a folder of its
 * own. One app at a time serves a folder. A server that was left running is taken over; one that dies is started again.
 */
import { setTimeout as sleep } from "node:timers/promises";
import { fail, ok, type Result } from "../../domain/result.js";
import { reasonOf } from "../company-file-store.js";
import { bringUp, serverUrl, type HeldServer } from "./bring-up.js";
import { checkReach, checkVersion, clusterIn, makeCluster, openDataFolder, readPassword } from "./cluster.js";
import { findPostmaster } from "./postmaster.js";
import { findPostgresPrograms, type PostgresPrograms } from "./postgres-programs.js";
import { placePrograms } from "./reachable-programs.js";
import { stopServer, type ServerPlan } from "./server-process.js";
import { findServerUser } from "./server-user.js";

export interface EmbeddedServer {
  /** The database of the app, with its password. Stays the same as long as the server is this app's. */
  readonly url: string;
  /** Stops the server and waits until all is written. May be called more than once. */
  stop(): Promise<void>;
}

export interface EmbeddedOptions {
  /** Told, once for each time, that the server was lost and does not come back; it is tried again until `stop`. */
  readonly onTrouble?: (sentence: string) => void;
  /** Of all processes that use the server together. */
  readonly mostConnections?: number;
  /** Other programs than those of the npm package. */
  readonly programs?: PostgresPrograms;
}

const DATABASE_NAME = "daylap";
const MOST_CONNECTIONS = 50;
const BETWEEN_REVIVALS_MS = 5_000;

/**
 * Starts the server of a data folder, which is made on first use, and takes the folder for this app alone.
 * Fails with a sentence that says what is wrong, where, and what to do; nothing half made is left then.
 */
export async function startEmbeddedServer(
  folder: string,
  options: EmbeddedOptions = {},
): Promise<Result<EmbeddedServer, string>> {
  const prepared = await prepare(folder, options);
  if (!prepared.ok) return prepared;
  const plan = prepared.value;
  const password = await readPassword(plan.cluster);
  if (!password.ok) return password;
  const up = await bringUp({
    plan,
    password: password.value,
    port: undefined,
    signal: new AbortController().signal,
  });
  if (!up.ok) return up;
  try {
    await makeDatabase(up.value);
  } catch (error) {
    await stopServer(plan);
    await up.value.connection.release().catch(() => undefined);
    return fail(error instanceof Error ? error.message : String(error));
  }
  return ok(keep(plan, password.value, up.value, options.onTrouble));
}

/** The address of the server that runs in a folder now, whoever serves it, to read from beside that app; or undefined. */
export async function findRunningServer(folder: string): Promise<string | undefined> {
  const cluster = clusterIn(folder);
  const postmaster = await findPostmaster(cluster.data);
  if (postmaster.kind !== "running" || postmaster.port === undefined) return undefined;
  const password = await readPassword(cluster);
  return password.ok ? serverUrl(postmaster.port, password.value, DATABASE_NAME) : undefined;
}

async function prepare(folder: string, options: EmbeddedOptions): Promise<Result<ServerPlan, string>> {
  const found = options.programs === undefined ? await findPostgresPrograms() : ok(options.programs);
  if (!found.ok) return found;
  const opened = await openDataFolder(folder);
  if (!opened.ok) return opened;
  const cluster = clusterIn(opened.value);
  const user = await findServerUser(cluster.data);
  if (!user.ok) return user;
  const reach = await checkReach(cluster, user.value);
  if (!reach.ok) return reach;
  const programs = await placePrograms(found.value, user.value, cluster.folder);
  if (!programs.ok) return programs;
  const made = await makeCluster(cluster, programs.value, user.value);
  if (!made.ok) return made;
  const version = await checkVersion(cluster, programs.value);
  if (!version.ok) return version;
  const mostConnections = options.mostConnections ?? MOST_CONNECTIONS;
  return ok({ cluster, programs: programs.value, user: user.value, mostConnections });
}

async function makeDatabase({ connection }: HeldServer): Promise<void> {
  const there = await connection.query("select 1 from pg_database where datname = $1", [DATABASE_NAME]);
  if (there.length === 0) await connection.query(`create database ${DATABASE_NAME}`);
}

/** Looks after a server that is up: when its connection is lost, takes it again or starts it again on the same port. */
function keep(
  plan: ServerPlan,
  password: string,
  first: HeldServer,
  onTrouble: (sentence: string) => void = () => undefined,
): EmbeddedServer {
  const { port } = first;
  const stopping = new AbortController();
  let held: HeldServer | undefined;
  let reviving = Promise.resolve();
  let stopped: Promise<void> | undefined;

  const watch = (server: HeldServer): void => {
    held = server;
    server.connection.onLost(() => {
      held = undefined;
      if (!stopping.signal.aborted) reviving = revive();
    });
  };
  const revive = async (): Promise<void> => {
    let isTold = false;
    while (!stopping.signal.aborted) {
      const up = await bringUp({ plan, password, port, signal: stopping.signal }).catch((error: unknown) =>
        fail(`The database in ${plan.cluster.folder} was lost: ${reasonOf(error)}.`),
      );
      if (up.ok) return watch(up.value);
      if (!isTold && !stopping.signal.aborted) onTrouble(up.error);
      isTold = true;
      await sleep(BETWEEN_REVIVALS_MS, undefined, { signal: stopping.signal }).catch(() => undefined);
    }
  };
  const stop = async (): Promise<void> => {
    stopping.abort();
    await reviving;
    // Without the lock the server is not this app's to stop.
    const server = held;
    if (server === undefined) return;
    await stopServer(plan);
    await server.connection.release().catch(() => undefined);
  };

  watch(first);
  return {
    url: serverUrl(port, password, DATABASE_NAME),
    stop: () => (stopped ??= stop()),
  };
}
