/**
 * Disks that are small, full or read-only. To mount a real one takes root; where that cannot be done, what PostgreSQL
 * says about such disks stands for them (the first test here, and server-failure.test.ts).
 */
import { spawnSync } from "node:child_process";
import { appendFile, mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { openDatabase } from "../../../src/store/database.js";
import { DatabaseFailure } from "../../../src/store/database-failure.js";
import { ask, askUntilAnswered, makeProgramsWith, useEmbedded } from "./embedded-harness.js";

const disks: string[] = [];
// Hooks after a test run from the last to the first: the servers of a disk are stopped before it goes.
afterEach(async () => {
  for (const disk of disks.splice(0)) {
    spawnSync("umount", ["-l", disk]);
    await rm(disk, { recursive: true, force: true });
  }
});
const { makeFolder, start, findRefusal } = useEmbedded();

async function makeDisk(options: string): Promise<string> {
  const disk = await mkdtemp(join(tmpdir(), "daylap-disk-"));
  disks.push(disk);
  const { status } = mount("-t", "tmpfs", "-o", `mode=0711,${options}`, "tmpfs", disk);
  if (status !== 0) throw new Error(`No disk could be mounted on ${disk}.`);
  return disk;
}

function mount(...args: readonly string[]): { readonly status: number | null } {
  return spawnSync("mount", args, { stdio: "ignore" });
}

/** Fills the disk to its last page. Removing the file makes room again. */
async function fill(disk: string): Promise<string> {
  const file = join(disk, "filling");
  for (const bytes of [1_000_000, 4096]) {
    const chunk = Buffer.alloc(bytes);
    for (;;) {
      const isFull = await appendFile(file, chunk).then(
        () => false,
        () => true,
      );
      if (isFull) break;
    }
  }
  return file;
}

async function canMount(): Promise<boolean> {
  if (process.getuid?.() !== 0) return false;
  const disk = await mkdtemp(join(tmpdir(), "daylap-disk-"));
  const { status } = mount("-t", "tmpfs", "-o", "size=64k", "tmpfs", disk);
  if (status === 0) spawnSync("umount", [disk]);
  await rm(disk, { recursive: true, force: true });
  return status === 0;
}

const isFullSentence = (folder: string): string =>
  `The disk that holds ${folder} is full, so the database cannot start. Nothing was changed: free some space there, and start again.`;

describe("a disk that fills up during a first start", () => {
  it("is left as it was when the disk fills up on the way", async () => {
    const folder = await makeFolder();
    const programs = await makeProgramsWith(
      folder,
      'for word; do case "$word" in --pgdata=*) mkdir "${word#--pgdata=}"; echo half > "${word#--pgdata=}/PG_VERSION";; esac; done\n' +
        `echo 'initdb: error: could not write file "pg_wal": No space left on device' >&2; exit 1`,
    );
    expect(await findRefusal(folder, { programs })).toBe(isFullSentence(folder));
    expect(await readdir(folder)).toEqual(["fake"]);
  });
});

if (await canMount()) {
  describe("a disk that is too small for a database", () => {
    it("is named, and left empty", async () => {
      const disk = await makeDisk("size=20m");
      expect(await findRefusal(disk)).toBe(isFullSentence(disk));
      expect(await readdir(disk)).toEqual([]);
    });

    it("is named, and left empty, when not even the first file fits", async () => {
      const disk = await makeDisk("nr_inodes=2");
      expect(await findRefusal(disk)).toBe(
        `The database cannot be made in ${disk}: the disk is full. Nothing was left there; mend that or choose another folder, and start again.`,
      );
      expect(await readdir(disk)).toEqual([]);
    });
  });

  describe("a disk that fills up under a running database", () => {
    it("loses nothing that was acknowledged, and takes changes again once there is room", async () => {
      const disk = await makeDisk("size=120m");
      const { url } = await start(disk);
      await ask(url, "create table kept (number integer primary key, filler text)");
      const database = openDatabase(url);
      const filling = await fill(disk);
      let acknowledged = 0;
      let failure: unknown;
      while (failure === undefined) {
        try {
          await database.query(
            "insert into kept select $1, string_agg(random()::text, '') from generate_series(1, 20000)",
            [acknowledged],
          );
          acknowledged += 1;
        } catch (error) {
          failure = error;
        }
      }
      await database.close();
      expect(failure).toBeInstanceOf(DatabaseFailure);
      await rm(filling);
      expect(await askUntilAnswered(url, "select count(*) from kept")).toEqual([{ count: acknowledged }]);
      await ask(url, "insert into kept values (-1, '')");
    });
  });

  describe("a full disk with a database on it", () => {
    it("is named, and the database starts once there is room", async () => {
      const disk = await makeDisk("size=120m");
      await (await start(disk)).stop();
      const filling = await fill(disk);
      expect(await findRefusal(disk)).toBe(isFullSentence(disk));
      await rm(filling);
      expect(await ask((await start(disk)).url, "select 1 as one")).toEqual([{ one: 1 }]);
    });
  });

  describe("a read-only disk", () => {
    it("is named with a database on it, and without", async () => {
      const disk = await makeDisk("size=120m");
      await (await start(disk)).stop();
      const empty = await makeDisk("size=120m");
      for (const folder of [disk, empty]) mount("-o", "remount,ro", folder);
      expect(await findRefusal(disk)).toBe(
        `The disk that holds ${disk} is read-only, so the database cannot start. Make it writable, or choose another folder.`,
      );
      expect(await findRefusal(empty)).toContain(
        `The database cannot be made in ${empty}: the disk is read-only.`,
      );
    });
  });
}
