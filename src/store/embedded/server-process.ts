/**
 * Starts and stops the server process on a cluster, by pg_ctl. Only this computer reaches it: one port of 127.0.0.1.
 * The server is on its own from then on, so that neither Ctrl+C nor the app's death takes it down half way.
 */
import { open, rename, stat } from "node:fs/promises";
import { createServer } from "node:net";
import { setTimeout as sleep } from "node:timers/promises";
import type { Cluster } from "./cluster.js";
import { findPostmaster } from "./postmaster.js";
import type { PostgresPrograms } from "./postgres-programs.js";
import { runProgram, type SystemUser } from "./run-program.js";
import { explainServerFailure, type ServerFailure } from "./server-failure.js";

/** What it takes to run a server on a cluster. */
export interface ServerPlan {
  readonly cluster: Cluster;
  readonly programs: PostgresPrograms;
  readonly user: SystemUser | undefined;
  readonly mostConnections: number;
}

/** A log that is longer is put aside at the next start, in the place of the one that was put aside before. */
const MOST_LOG_BYTES = 1_000_000;
const START_SECONDS = 60;
const STOP_PATIENCE_MS = 60_000;
const BETWEEN_LOOKS_MS = 20;

/** An answered commit is on the disk; the log holds no statement and no value, for they are about people. */
const SETTINGS = [
  "listen_addresses=127.0.0.1",
  "unix_socket_directories=",
  "fsync=on",
  "synchronous_commit=on",
  "full_page_writes=on",
  "shared_buffers=32MB",
  "max_wal_size=256MB",
  "timezone=UTC",
  "log_timezone=UTC",
  "log_checkpoints=off",
  "log_min_error_statement=panic",
  "log_error_verbosity=terse",
];

/** Starts a server; undefined where it runs and takes connections. It may have been started by somebody else by then. */
export async function startServer(plan: ServerPlan, port: number): Promise<ServerFailure | undefined> {
  const { cluster, programs, user } = plan;
  await putLogAside(cluster.log);
  const logBefore = await sizeOf(cluster.log);
  const options = [`-p ${port}`, `-c max_connections=${plan.mostConnections}`];
  for (const setting of SETTINGS) options.push(`-c ${setting}`);
  // Relative paths: pg_ctl hands them to a shell, which would take a "$" in a folder's name for its own.
  const args = ["start", "-w", "-t", String(START_SECONDS), "-D", "data", "-l", "server.log"];
  const { code, output } = await runProgram(programs.pgCtl, [...args, "-o", options.join(" ")], {
    user,
    cwd: cluster.root,
  });
  if (code === 0) return undefined;
  return explainServerFailure(`${await readFrom(cluster.log, logBefore)}\n${output}`, cluster.folder);
}

/** Stops the server: clients are cut off, all is written. Where that takes too long, it stops as in a power cut. */
export async function stopServer({ cluster, programs, user }: ServerPlan): Promise<void> {
  const found = await findPostmaster(cluster.data);
  if (found.kind !== "running") return;
  // INT and QUIT are PostgreSQL's fast and immediate shutdown. “pg_ctl stop” is of no use here: it would wait for, and
  // then stop, whatever server the lock file names by then, which may be the next app's.
  for (const signal of ["INT", "QUIT"]) {
    await runProgram(programs.pgCtl, ["kill", signal, String(found.pid)], { user, cwd: cluster.root });
    if (await isGone(cluster, found.pid)) return;
  }
}

async function isGone({ data }: Cluster, pid: number): Promise<boolean> {
  const giveUpAt = Date.now() + STOP_PATIENCE_MS;
  while (Date.now() < giveUpAt) {
    const found = await findPostmaster(data);
    if (found.kind !== "running" || found.pid !== pid) return true;
    await sleep(BETWEEN_LOOKS_MS);
  }
  return false;
}

/** A port of 127.0.0.1 that is free at this moment. */
export async function findFreePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(0, "127.0.0.1", resolve);
  });
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === "object" && address !== null ? address.port : 0;
}

async function putLogAside(log: string): Promise<void> {
  // The log must not keep the database from starting.
  if ((await sizeOf(log)) > MOST_LOG_BYTES) await rename(log, `${log}.old`).catch(() => undefined);
}

async function sizeOf(path: string): Promise<number> {
  return stat(path).then(
    ({ size }) => size,
    () => 0,
  );
}

async function readFrom(path: string, start: number): Promise<string> {
  try {
    const file = await open(path, "r");
    try {
      const length = Math.max(0, (await file.stat()).size - start);
      const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, start);
      return buffer.toString("utf8", 0, bytesRead);
    } finally {
      await file.close();
    }
  } catch {
    return "";
  }
}
