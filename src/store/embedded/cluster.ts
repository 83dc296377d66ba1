/**
 * The server's folder: what lies where in it, how it is made, and whether these programs can open it.
 * It is made under another name and then renamed, so that one under its own name is whole, whatever came between.
 */
import { randomBytes, randomUUID } from "node:crypto";
import { chmod, chown, mkdir, readFile, readdir, realpath, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { PRODUCT_NAME } from "../../domain/product.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { reasonOf } from "../company-file-store.js";
import { realDisk } from "../disk.js";
import type { PostgresPrograms } from "./postgres-programs.js";
import { runProgram, type SystemUser } from "./run-program.js";
import { explainServerFailure } from "./server-failure.js";
import { findBarrier } from "./server-user.js";

/** Absolute paths. */
export interface Cluster {
  /** The data folder of the app, in which all the rest lies. */
  readonly folder: string;
  readonly root: string;
  /** PostgreSQL's data directory. */
  readonly data: string;
  readonly passwordFile: string;
  readonly log: string;
}

/** The one role of the server, which owns all. */
export const SERVER_ROLE = "daylap";

const ROOT_NAME = "postgresql";
const MAKING = `${ROOT_NAME}.making-`;
/** Far longer than any initdb takes: what is older was left by a start that was interrupted. */
const LEFT_BEHIND_MS = 10 * 60_000;

export function clusterIn(folder: string): Cluster {
  return { folder, ...partsOf(join(folder, ROOT_NAME)) };
}

function partsOf(root: string): Omit<Cluster, "folder"> {
  return {
    root,
    data: join(root, "data"),
    passwordFile: join(root, "password"),
    log: join(root, "server.log"),
  };
}

/** Makes the folder where it is missing, and gives its path without links. */
export async function openDataFolder(folder: string): Promise<Result<string, string>> {
  try {
    const first = await mkdir(folder, { recursive: true });
    // The server may have to run as another user, who must get through; what lies inside is closed to others.
    if (first !== undefined) await chmod(folder, 0o711);
    return ok(await realpath(folder));
  } catch (error) {
    return fail(`The data folder ${folder} cannot be made or opened: ${reasonOf(error)}.`);
  }
}

/** A sentence where the server's user cannot get into the data folder. */
export async function checkReach(
  { folder }: Cluster,
  user: SystemUser | undefined,
): Promise<Result<void, string>> {
  if (user === undefined) return ok(undefined);
  const barrier = await findBarrier(folder, user);
  if (barrier === undefined) return ok(undefined);
  return fail(
    `PostgreSQL does not run as root, so it runs as the user “${user.name}”, who may not enter ${barrier}. ` +
      `Choose a data folder elsewhere, let others pass through it (chmod o+x ${barrier}), or start ${PRODUCT_NAME} as another user than root.`,
  );
}

/** Makes the cluster where there is none. On failure nothing is left of it. */
export async function makeCluster(
  cluster: Cluster,
  programs: PostgresPrograms,
  user: SystemUser | undefined,
): Promise<Result<void, string>> {
  try {
    await removeLeftBehind(cluster.folder);
    if (await isThere(cluster.root)) return ok(undefined);
  } catch (error) {
    return fail(cannotMake(cluster, reasonOf(error)));
  }
  const root = join(cluster.folder, `${MAKING}${randomUUID()}`);
  try {
    const made = await fill(partsOf(root), cluster, programs, user);
    if (!made.ok) return made;
    await rename(root, cluster.root);
    await realDisk.syncFolder(cluster.folder).catch(() => undefined);
    return ok(undefined);
  } catch (error) {
    // Another start may have been quicker.
    if (await isThere(cluster.root).catch(() => false)) return ok(undefined);
    return fail(cannotMake(cluster, reasonOf(error)));
  } finally {
    await rm(root, { recursive: true, force: true }).catch(() => undefined);
  }
}

async function fill(
  parts: Omit<Cluster, "folder">,
  cluster: Cluster,
  programs: PostgresPrograms,
  user: SystemUser | undefined,
): Promise<Result<void, string>> {
  await mkdir(parts.root, { mode: 0o700 });
  await realDisk.writeNew(parts.passwordFile, randomBytes(24).toString("hex"), 0o600);
  if (user !== undefined) {
    for (const path of [parts.root, parts.passwordFile]) await chown(path, user.uid, user.gid);
  }
  const settings = [
    `--pgdata=${parts.data}`,
    `--username=${SERVER_ROLE}`,
    "--auth=scram-sha-256",
    `--pwfile=${parts.passwordFile}`,
    "--encoding=UTF8",
    "--locale-provider=builtin",
    "--builtin-locale=C.UTF-8",
    "--locale=C",
    "--no-instructions",
  ];
  const { code, output } = await runProgram(programs.initdb, settings, { user, cwd: parts.root });
  return code === 0 ? ok(undefined) : fail(explainServerFailure(output, cluster.folder).sentence);
}

function cannotMake({ folder }: Cluster, reason: string): string {
  return `The database cannot be made in ${folder}: ${reason}. Nothing was left there; mend that or choose another folder, and start again.`;
}

async function removeLeftBehind(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!name.startsWith(MAKING)) continue;
    const path = join(folder, name);
    const found = await stat(path).catch(() => undefined);
    if (found !== undefined && found.mtimeMs < Date.now() - LEFT_BEHIND_MS) {
      await rm(path, { recursive: true, force: true });
    }
  }
}

/** A sentence where the cluster was made by another major version of PostgreSQL than the programs are. */
export async function checkVersion(
  cluster: Cluster,
  programs: PostgresPrograms,
): Promise<Result<void, string>> {
  const text = await readFile(join(cluster.data, "PG_VERSION"), "utf8").catch(() => "");
  const made = Number.parseInt(text, 10);
  const known = Number.parseInt(programs.version, 10);
  if (made === known) return ok(undefined);
  if (Number.isNaN(made)) {
    return fail(
      `${cluster.root} is no database of ${PRODUCT_NAME}, or a damaged one: its data/PG_VERSION cannot be read. ` +
        "Restore that folder from a copy, or move it elsewhere to begin with an empty database.",
    );
  }
  const other = made > known ? "a newer" : "an older";
  return fail(
    `The database in ${cluster.folder} was made by PostgreSQL ${made}, and this version of ${PRODUCT_NAME} comes with ${known}, which cannot open it. ` +
      `Start ${other} version of ${PRODUCT_NAME} that can, write a backup there (daylap backup FILE), and restore that here into a new folder (daylap restore FILE).`,
  );
}

export async function readPassword({ passwordFile }: Cluster): Promise<Result<string, string>> {
  try {
    return ok((await readFile(passwordFile, "utf8")).trim());
  } catch (error) {
    return fail(`The password of the database, ${passwordFile}, cannot be read: ${reasonOf(error)}.`);
  }
}

async function isThere(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return false;
    throw error;
  }
}
