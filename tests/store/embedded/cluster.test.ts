/**
 * The server's folder: one that another version made, one that was never finished, and one that cannot be made at all.
 */
import { mkdir, readdir, rm, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { clusterIn } from "../../../src/store/embedded/cluster.js";
import { ask, makeProgramsWith, useEmbedded } from "./embedded-harness.js";

const { makeFolder, start, findRefusal, spawnApp } = useEmbedded();

async function makeStopped(folder: string): Promise<void> {
  await (await start(folder)).stop();
}

describe("a folder of another major version of PostgreSQL", () => {
  it.each([
    ["99", "a newer"],
    ["17", "an older"],
  ])("%s is refused untouched, and the sentence says how to go on", async (version, other) => {
    const folder = await makeFolder();
    await makeStopped(folder);
    const { data } = clusterIn(folder);
    await writeFile(join(data, "PG_VERSION"), `${version}\n`);
    const before = (await readdir(data)).toSorted();
    expect(await findRefusal(folder)).toBe(
      `The database in ${folder} was made by PostgreSQL ${version}, and this version of Daylap comes with 18, which cannot open it. ` +
        `Start ${other} version of Daylap that can, write a backup there (daylap backup FILE), and restore that here into a new folder (daylap restore FILE).`,
    );
    expect((await readdir(data)).toSorted()).toEqual(before);
  });

  it("is not guessed at where its version cannot be read", async () => {
    const folder = await makeFolder();
    await makeStopped(folder);
    await rm(join(clusterIn(folder).data, "PG_VERSION"));
    expect(await findRefusal(folder)).toContain(
      `${clusterIn(folder).root} is no database of Daylap, or a damaged one`,
    );
  });
});

describe("a first start that was interrupted", () => {
  it("leaves nothing that the next start takes for a database, and is cleared away once it is old", async () => {
    const folder = await makeFolder();
    const half = join(folder, "postgresql.making-0");
    await mkdir(join(half, "data"), { recursive: true });
    await writeFile(join(half, "data", "PG_VERSION"), "18\n");
    await utimes(half, 0, 0);
    const young = join(folder, "postgresql.making-1");
    await mkdir(young);
    expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
    // The young one may belong to another start that is going on.
    expect((await readdir(folder)).toSorted()).toEqual(["postgresql", "postgresql.making-1"]);
  });

  it("is begun anew when the app was killed in the midst of it", async () => {
    const folder = await makeFolder();
    const app = spawnApp(folder);
    while (!(await readdir(folder)).some((name) => name.startsWith("postgresql.making-"))) await sleep(1);
    await app.kill();
    expect(await readdir(folder)).toEqual([expect.stringMatching(/^postgresql\.making-/)]);
    expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
  });
});

describe("a folder in which no database can be made", () => {
  it("is named with PostgreSQL's own words when these are unknown", async () => {
    const folder = await makeFolder();
    const programs = await makeProgramsWith(folder, "echo 'initdb: error: the moon is full' >&2; exit 1");
    expect(await findRefusal(folder, { programs })).toBe(
      `The database in ${folder} could not be started. PostgreSQL says: initdb: error: the moon is full`,
    );
  });

  it("is named when it is a file", async () => {
    const folder = await makeFolder();
    const file = join(folder, "data");
    await writeFile(file, "");
    expect(await findRefusal(file)).toBe(`The data folder ${file} cannot be made or opened: EEXIST.`);
    expect(await findRefusal(join(file, "below"))).toBe(
      `The data folder ${join(file, "below")} cannot be made or opened: part of its path is no folder.`,
    );
  });
});
