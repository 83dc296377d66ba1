/**
 * PostgreSQL's programs where the user of the server can run them: as npm installed them, or else as a copy in the data
 * folder (the project lies below /root, say, or npm left the package half set up and this process may not mend it).
 */
import { randomUUID } from "node:crypto";
import { cp, lchown, readdir, realpath, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { fail, ok, type Result } from "../../domain/result.js";
import { reasonOf } from "../company-file-store.js";
import { completePrograms, type PostgresPrograms } from "./postgres-programs.js";
import type { SystemUser } from "./run-program.js";
import { findBarrier } from "./server-user.js";

/** The programs as they are, where the user can run them; otherwise a copy below `shelf`, which the user can reach. */
export async function placePrograms(
  programs: PostgresPrograms,
  user: SystemUser | undefined,
  shelf: string,
): Promise<Result<PostgresPrograms, string>> {
  const isWhole = await completePrograms(programs);
  if (isWhole && (await canRun(programs, user))) return ok(programs);
  const copy = copyOf(programs, join(shelf, `programs-${programs.version}`));
  try {
    if ((await stat(copy.folder).catch(() => undefined)) === undefined) await makeCopy(programs, copy, user);
  } catch (error) {
    return fail(
      `PostgreSQL's programs in ${programs.folder} cannot be run from there, and could not be copied to ${copy.folder}: ` +
        `${reasonOf(error)}. Install this program where other users can read it, or name a PostgreSQL server in DATABASE_URL.`,
    );
  }
  return ok(copy);
}

async function canRun(programs: PostgresPrograms, user: SystemUser | undefined): Promise<boolean> {
  if (user === undefined) return true;
  for (const program of [programs.postgres, join(programs.folder, "share"), join(programs.folder, "lib")]) {
    if ((await findBarrier(await realpath(program), user)) !== undefined) return false;
  }
  return true;
}

function copyOf(programs: PostgresPrograms, folder: string): PostgresPrograms {
  const moved = (path: string): string => join(folder, path.slice(programs.folder.length));
  return {
    folder,
    initdb: moved(programs.initdb),
    pgCtl: moved(programs.pgCtl),
    postgres: moved(programs.postgres),
    version: programs.version,
  };
}

/** The copy takes its name when it is whole. */
async function makeCopy(
  programs: PostgresPrograms,
  copy: PostgresPrograms,
  user: SystemUser | undefined,
): Promise<void> {
  const making = `${copy.folder}.making-${randomUUID()}`;
  try {
    await cp(programs.folder, making, { recursive: true, verbatimSymlinks: true });
    await completePrograms(copyOf(programs, making));
    if (user !== undefined) await giveTo(user, making);
    await rename(making, copy.folder);
  } catch (error) {
    await rm(making, { recursive: true, force: true }).catch(() => undefined);
    // Another start may have been quicker; its copy is as good.
    if ((await stat(copy.folder).catch(() => undefined)) === undefined) throw error;
  }
}

async function giveTo(user: SystemUser, folder: string): Promise<void> {
  const paths = await readdir(folder, { recursive: true });
  for (const path of ["", ...paths]) await lchown(join(folder, path), user.uid, user.gid);
}
