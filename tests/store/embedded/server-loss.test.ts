/**
 * Deaths: of the app, of the server, of both. What was acknowledged is there afterwards, and the next start succeeds.
 */
import { spawn, type ChildProcess } from "node:child_process";
import { once } from "node:events";
import { readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../../src/store/database.js";
import { clusterIn } from "../../../src/store/embedded/cluster.js";
import { findPostmaster } from "../../../src/store/embedded/postmaster.js";
import { ask, askUntilAnswered, pidOf, useEmbedded } from "./embedded-harness.js";

const { makeFolder, start, spawnApp } = useEmbedded();

/** Writes numbers from 0 until a write fails; calls back with each that was acknowledged. */
async function writeUntilLost(url: string, onKept: (count: number) => void): Promise<number> {
  const database = openDatabase(url);
  try {
    for (let count = 0; ; count += 1) {
      try {
        await database.query("insert into kept values ($1)", [count]);
      } catch {
        return count;
      }
      onKept(count + 1);
    }
  } finally {
    await database.close();
  }
}

describe("a server whose app was killed", () => {
  it("is taken over as it runs", async () => {
    const folder = await makeFolder();
    const app = spawnApp(folder);
    await ask(await app.url, "create table kept as select 7 as seven");
    const pid = await pidOf(folder);
    await app.kill();
    const server = await start(folder);
    expect(server.url).toBe(await app.url);
    expect(await pidOf(folder)).toBe(pid);
    expect(await ask(server.url, "select seven from kept")).toEqual([{ seven: 7 }]);
  });

  it("is started again with all that was acknowledged when it was killed as well", async () => {
    const folder = await makeFolder();
    const app = spawnApp(folder);
    await ask(await app.url, "create table kept (number integer primary key)");
    const pid = await pidOf(folder);
    const acknowledged = await writeUntilLost(await app.url, (count) => {
      if (count === 100) void app.kill().then(() => process.kill(pid, "SIGKILL"));
    });
    expect(acknowledged).toBeGreaterThanOrEqual(100);
    const server = await start(folder);
    const [row] = await ask<{ kept: number }>(
      server.url,
      `select count(*) filter (where number < ${acknowledged}) as kept from kept`,
    );
    expect(row).toEqual({ kept: acknowledged });
  });
});

describe("a server that dies under its app", () => {
  it("comes back at the same address with all that was acknowledged", async () => {
    const folder = await makeFolder();
    const { url } = await start(folder);
    await ask(url, "create table kept (number integer primary key)");
    const pid = await pidOf(folder);
    const acknowledged = await writeUntilLost(url, (count) => {
      if (count === 100) process.kill(pid, "SIGKILL");
    });
    const rows = await askUntilAnswered(
      url,
      `select count(*) filter (where number < ${acknowledged}) as kept from kept`,
    );
    expect(rows).toEqual([{ kept: acknowledged }]);
    expect(await pidOf(folder)).not.toBe(pid);
  });

  it("is still its app's alone when it has come back", async () => {
    const folder = await makeFolder();
    const { url } = await start(folder);
    const holder = await findHolder(url);
    process.kill(await pidOf(folder), "SIGKILL");
    await waitForHolderAfter(url, holder);
    await expect(start(folder)).rejects.toThrow("Another Daylap already serves");
  });

  it("keeps its app's lock when only a connection of it was ended", async () => {
    const folder = await makeFolder();
    const { url } = await start(folder);
    const holder = await findHolder(url);
    await ask(url, `select pg_terminate_backend(${holder})`);
    await waitForHolderAfter(url, holder);
    await expect(start(folder)).rejects.toThrow("Another Daylap already serves");
    expect(await ask(url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  it("stays down when its app stops at that moment", async () => {
    const folder = await makeFolder();
    const server = await start(folder);
    const pid = await pidOf(folder);
    process.kill(pid, "SIGKILL");
    await askUntilGone(folder, pid);
    await server.stop();
    expect((await findPostmaster(clusterIn(folder).data)).kind).not.toBe("running");
  });

  it("is told of once when it cannot come back, and comes back when it can", async () => {
    const folder = await makeFolder();
    const told: string[] = [];
    const { url } = await start(folder, { onTrouble: (sentence) => told.push(sentence) });
    const versionFile = join(clusterIn(folder).data, "PG_VERSION");
    const version = await readFile(versionFile, "utf8");
    await writeFile(versionFile, "99\n");
    process.kill(await pidOf(folder), "SIGKILL");
    while (told.length === 0) await sleep(20);
    await writeFile(versionFile, version);
    expect(await askUntilAnswered(url, "select 1 as one")).toEqual([{ one: 1 }]);
    expect(told).toEqual([expect.stringContaining("database files are incompatible with server")]);
  });
});

/** Some other program of the user who owns the data, whom PostgreSQL takes for a server by its number alone. */
async function startStranger(data: string): Promise<ChildProcess> {
  const { uid, gid } = await stat(data);
  const stranger = spawn("sleep", ["600"], {
    stdio: "ignore",
    ...(process.getuid?.() === 0 ? { uid, gid } : {}),
  });
  await once(stranger, "spawn");
  return stranger;
}

async function askUntilGone(folder: string, pid: number): Promise<void> {
  for (;;) {
    const found = await findPostmaster(clusterIn(folder).data);
    if (found.kind !== "running" || found.pid !== pid) return;
    await sleep(1);
  }
}

/** The server's process that holds an app's lock; undefined where no app has it. */
async function findHolder(url: string): Promise<number | undefined> {
  const rows = await askUntilAnswered<{ pid: number }>(
    url,
    "select pid from pg_locks where locktype = 'advisory' and granted",
  );
  return rows[0]?.pid;
}

async function waitForHolderAfter(url: string, before: number | undefined): Promise<void> {
  for (;;) {
    const holder = await findHolder(url);
    if (holder !== undefined && holder !== before) return;
    await sleep(20);
  }
}

describe("a lock file", () => {
  it("of a server that is gone keeps nobody from starting", async () => {
    const folder = await makeFolder();
    await leaveLockFile(folder, 2 ** 22 - 1);
    expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  it("whose process number belongs to another program by now keeps nobody from starting", async () => {
    const folder = await makeFolder();
    await (await start(folder)).stop();
    const stranger = await startStranger(clusterIn(folder).data);
    try {
      await leaveLockFile(folder, stranger.pid ?? 0);
      expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
      expect(stranger.exitCode ?? stranger.signalCode).toBe(null);
    } finally {
      stranger.kill("SIGKILL");
    }
  });

  it("whose process number belongs to the server of another folder by now keeps nobody from starting", async () => {
    const folder = await makeFolder();
    const other = await makeFolder();
    const neighbour = await start(other);
    await leaveLockFile(folder, await pidOf(other), new URL(neighbour.url).port);
    expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
    expect(await ask(neighbour.url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  it("that was left empty keeps nobody from starting", async () => {
    const folder = await makeFolder();
    await (await start(folder)).stop();
    await writeFile(join(clusterIn(folder).data, "postmaster.pid"), "");
    expect(await ask((await start(folder)).url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  /** What a killed server leaves behind, with another process number in it. */
  async function leaveLockFile(folder: string, pid: number, port?: string): Promise<void> {
    const server = await start(folder);
    const file = join(clusterIn(folder).data, "postmaster.pid");
    const lines = (await readFile(file, "utf8")).split("\n");
    await server.stop();
    const left = lines.map((line, index) =>
      index === 0 ? String(pid) : index === 3 ? (port ?? line) : line,
    );
    await writeFile(file, left.join("\n"));
  }
});
