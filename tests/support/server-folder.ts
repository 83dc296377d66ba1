/**
 * Temporary data folders for embedded servers of tests. A folder's name holds the process that made it, so that what a
 * killed run left, servers included, is cleared away by the next one.
 */
import { readFileSync, rmSync } from "node:fs";
import { chmod, mkdtemp, readdir, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { clusterIn } from "../../src/store/embedded/cluster.js";
import { findPostmaster } from "../../src/store/embedded/postmaster.js";

const PREFIX = "daylap-test-server-";

/** A new folder, which the server's user can get into. */
export async function makeServerFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), `${PREFIX}${process.pid}-`));
  await chmod(folder, 0o711);
  return folder;
}

/** Ends the server of a folder at once, if one runs there, and removes the folder. */
export async function removeServerFolder(folder: string): Promise<void> {
  const { data } = clusterIn(folder);
  for (;;) {
    const found = await findPostmaster(data);
    if (found.kind !== "running") break;
    endNow(found.pid);
    await sleep(20);
  }
  await rm(folder, { recursive: true, force: true, maxRetries: 10 });
}

/** The same without waiting, for a process that is on its way out. */
export function removeServerFolderNow(folder: string): void {
  try {
    endNow(Number.parseInt(readFileSync(join(clusterIn(folder).data, "postmaster.pid"), "utf8"), 10));
  } catch {
    // No server runs there.
  }
  rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 50 });
}

/** Clears away what this user's runs have left that could not do it themselves. */
export async function removeLeftFolders(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    if (!name.startsWith(PREFIX) || isAlive(Number.parseInt(name.slice(PREFIX.length), 10))) continue;
    const folder = join(tmpdir(), name);
    // Another run may clear it away at the same time.
    const owner = await stat(folder).catch(() => undefined);
    if (owner !== undefined && owner.uid === (process.getuid?.() ?? owner.uid))
      await removeServerFolder(folder);
  }
}

/** SIGQUIT is PostgreSQL's immediate shutdown. */
function endNow(pid: number): void {
  try {
    process.kill(pid, "SIGQUIT");
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "ESRCH")) throw error;
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
