/**
 * Which server runs on a data directory, as its lock file postmaster.pid and the operating system tell.
 * The file outlives a server that was killed, and its process number may belong to any program by then, so the file
 * alone proves nothing: a server is believed in only while a process of that number is PostgreSQL on this directory.
 */
import { execFile } from "node:child_process";
import { readFile, readlink, realpath, rm } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";

/**
 * `none`: no lock file. `running`: a server, which may still be starting or ending; its port is not known at once.
 * `stale`: a lock file that no server stands behind. `unclear`: a lock file with nothing in it.
 */
export type Postmaster =
  | { readonly kind: "none" }
  | { readonly kind: "running"; readonly pid: number; readonly port: number | undefined }
  | { readonly kind: "stale" }
  | { readonly kind: "unclear" };

const run = promisify(execFile);

/** Lines of postmaster.pid (PostgreSQL's pidfile.h): process number, directory, start, port, … */
const PID_LINE = 0;
const PORT_LINE = 3;

export async function findPostmaster(data: string): Promise<Postmaster> {
  const text = await readFile(join(data, "postmaster.pid"), "utf8").catch(() => undefined);
  if (text === undefined) return { kind: "none" };
  const lines = text.split("\n");
  const pid = Number.parseInt(lines[PID_LINE] ?? "", 10);
  if (!(pid > 0)) return { kind: "unclear" };
  if (!(await isPostmasterOf(data, pid))) return { kind: "stale" };
  const port = Number.parseInt(lines[PORT_LINE] ?? "", 10);
  return { kind: "running", pid, port: port > 0 ? port : undefined };
}

/** Removes a lock file that is stale or unclear. PostgreSQL's shared memory still keeps two servers apart. */
export async function removeLockFile(data: string): Promise<void> {
  await rm(join(data, "postmaster.pid"), { force: true });
}

async function isPostmasterOf(data: string, pid: number): Promise<boolean> {
  if (process.platform === "linux") return isPostmasterByProc(data, pid);
  if (process.platform === "win32") {
    const list = await outputOf("tasklist", ["/FI", `PID eq ${pid}`, "/NH", "/FO", "CSV"]);
    return /postgres/i.test(list);
  }
  return /postgres/.test(await outputOf("ps", ["-o", "comm=", "-p", String(pid)]));
}

async function isPostmasterByProc(data: string, pid: number): Promise<boolean> {
  const status = await readFile(`/proc/${pid}/status`, "utf8").catch(() => "");
  const [, name] = /^Name:\t(.*)$/m.exec(status) ?? [];
  // A process that has ended and that nobody has asked about stays in the list as a zombie.
  if (name !== "postgres" || /^State:\t[ZX]/m.test(status)) return false;
  try {
    // A server's working directory is its data directory.
    return (await readlink(`/proc/${pid}/cwd`)) === (await realpath(data));
  } catch {
    // Another user's process may not be looked into. Better to wait for a stranger than to start beside a server.
    return true;
  }
}

async function outputOf(program: string, args: readonly string[]): Promise<string> {
  return run(program, [...args], { windowsHide: true }).then(
    ({ stdout }) => stdout,
    () => "",
  );
}
