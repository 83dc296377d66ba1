/**
 * As whom the embedded server runs. PostgreSQL refuses to run as root, so under root it runs as an unprivileged user
 * that is already there; otherwise as whoever runs the app. Says which folder such a user cannot get past.
 */
import { readFile, stat } from "node:fs/promises";
import { dirname } from "node:path";
import { fail, ok, type Result } from "../../domain/result.js";
import type { SystemUser } from "./run-program.js";

/** In this order. */
const UNPRIVILEGED = ["postgres", "nobody"];

/**
 * The user to run the server as; undefined for the one who runs this process. A database that exists is served by its
 * owner. `data` need not exist.
 */
export async function findServerUser(data: string): Promise<Result<SystemUser | undefined, string>> {
  if (process.getuid?.() !== 0) return ok(undefined);
  const users = await listUsers();
  const owner = await stat(data).catch(() => undefined);
  if (owner !== undefined && owner.uid !== 0) {
    const name = users.find(({ uid }) => uid === owner.uid)?.name ?? String(owner.uid);
    return ok({ name, uid: owner.uid, gid: owner.gid });
  }
  const user = UNPRIVILEGED.map((wanted) => users.find(({ name }) => name === wanted)).find(
    (found) => found !== undefined,
  );
  if (user !== undefined) return ok(user);
  return fail(
    "PostgreSQL does not run as root, and this system has neither a user “postgres” nor a user “nobody” to run it as. " +
      "Start the program as another user than root, or name a PostgreSQL server in DATABASE_URL.",
  );
}

async function listUsers(): Promise<readonly SystemUser[]> {
  const text = await readFile("/etc/passwd", "utf8").catch(() => "");
  return text.split("\n").flatMap((line) => {
    const [name, , uid, gid] = line.split(":");
    if (name === undefined || uid === undefined || gid === undefined) return [];
    return [{ name, uid: Number(uid), gid: Number(gid) }];
  });
}

/**
 * The first folder on the way to `path` (itself included) that the user may not enter; undefined where the way is free.
 * Reads permission bits only. `path` exists and is absolute, links resolved.
 */
export async function findBarrier(path: string, user: SystemUser): Promise<string | undefined> {
  const parent = dirname(path);
  const above = parent === path ? undefined : await findBarrier(parent, user);
  if (above !== undefined) return above;
  const found = await stat(path);
  const bit = found.uid === user.uid ? 0o100 : found.gid === user.gid ? 0o010 : 0o001;
  return (found.mode & bit) === 0 ? path : undefined;
}
