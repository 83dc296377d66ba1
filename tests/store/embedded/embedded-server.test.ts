/**
 * The embedded server in ordinary use: what a first start makes, what it keeps, and that it is this app's alone.
 */
import { readFile, readdir, stat } from "node:fs/promises";
import { networkInterfaces } from "node:os";
import { connect } from "node:net";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../../src/store/database.js";
import { clusterIn } from "../../../src/store/embedded/cluster.js";
import { startEmbeddedServer } from "../../../src/store/embedded/embedded-server.js";
import { findPostmaster } from "../../../src/store/embedded/postmaster.js";
import { ask, pidOf, useEmbedded } from "./embedded-harness.js";

const { makeFolder, start, findRefusal } = useEmbedded();

describe("a first start", () => {
  it("makes the folder, the server and the database daylap", async () => {
    const folder = join(await makeFolder(), "company", "data");
    const { url } = await start(folder);
    expect(await ask(url, "select current_database() as name, 1 + 1 as two")).toEqual([
      { name: "daylap", two: 2 },
    ]);
    expect(await readdir(folder)).toEqual(["postgresql"]);
  });

  it("makes a password that only the owner of the file can read, and lets nobody in without it", async () => {
    const folder = await makeFolder();
    const { url } = await start(folder);
    const { passwordFile } = clusterIn(folder);
    expect((await stat(passwordFile)).mode & 0o777).toBe(0o600);
    const password = await readFile(passwordFile, "utf8");
    expect(password).toMatch(/^[0-9a-f]{48}$/);
    expect(new URL(url).password).toBe(password);
    const without = new URL(url);
    without.password = "guess";
    await expect(ask(without.href, "select 1")).rejects.toMatchObject({ cause: { code: "28P01" } });
  });

  it("gives every folder a password of its own", async () => {
    const one = await start(await makeFolder());
    const two = await start(await makeFolder());
    expect(new URL(one.url).password).not.toBe(new URL(two.url).password);
  });

  it("listens on the loopback address only, and on no socket file", async () => {
    const { url } = await start(await makeFolder());
    const port = Number(new URL(url).port);
    expect(new URL(url).hostname).toBe("127.0.0.1");
    const others = Object.values(networkInterfaces())
      .flatMap((addresses) => addresses ?? [])
      .filter(({ internal, family }) => !internal && family === "IPv4");
    for (const { address } of others) expect(await canConnect(address, port)).toBe(false);
    expect(await canConnect("127.0.0.1", port)).toBe(true);
    expect(await ask(url, "select current_setting('unix_socket_directories') as folders")).toEqual([
      { folders: "" },
    ]);
  });

  it("keeps what was answered on the disk, sorts by code point, and logs no statement", async () => {
    const { url } = await start(await makeFolder());
    const settings = await ask<{ name: string; setting: string }>(
      url,
      `select name, setting from pg_settings where name in
        ('fsync', 'synchronous_commit', 'full_page_writes', 'data_checksums', 'server_encoding', 'log_min_error_statement')
       order by name`,
    );
    expect(settings.map(({ name, setting }) => `${name}=${setting}`)).toEqual([
      "data_checksums=on",
      "fsync=on",
      "full_page_writes=on",
      "log_min_error_statement=panic",
      "server_encoding=UTF8",
      "synchronous_commit=on",
    ]);
    const rows = await ask<{ word: string }>(
      url,
      "select word from unnest(array['b', 'B', 'a', 'é']) word order by word",
    );
    expect(rows.map(({ word }) => word)).toEqual(["B", "a", "b", "é"]);
  });
});

describe("the next start", () => {
  it("finds what the one before has written", async () => {
    const folder = await makeFolder();
    const first = await start(folder);
    await ask(first.url, "create table kept as select 7 as seven");
    await first.stop();
    const second = await start(folder);
    expect(await ask(second.url, "select seven from kept")).toEqual([{ seven: 7 }]);
  });

  it("waits while the server of the one before is still stopping, which then leaves the new one alone", async () => {
    const folder = await makeFolder();
    let server = await start(folder);
    for (let round = 0; round < 5; round += 1) {
      const stopping = server.stop();
      server = await start(folder);
      const pid = await pidOf(folder);
      await stopping;
      expect(await ask(server.url, "select 1 as one")).toEqual([{ one: 1 }]);
      expect(await pidOf(folder)).toBe(pid);
    }
  });
});

describe("a folder that an app serves", () => {
  it("is refused to a second app, and the first goes on undisturbed", async () => {
    const folder = await makeFolder();
    const first = await start(folder);
    const pid = await pidOf(folder);
    const sentence = await findRefusal(folder);
    expect(sentence).toBe(
      `Another Daylap already serves the data folder ${folder}. Use that one, end it first, or choose another folder.`,
    );
    expect(await pidOf(folder)).toBe(pid);
    expect(await ask(first.url, "select 1 as one")).toEqual([{ one: 1 }]);
  });

  it("goes to exactly one of two apps that start it for the first time together", async () => {
    const folder = await makeFolder();
    const both = await Promise.all([startEmbeddedServer(folder), startEmbeddedServer(folder)]);
    try {
      expect(both.filter(({ ok }) => ok)).toHaveLength(1);
      for (const started of both) {
        if (!started.ok) expect(started.error).toContain("Another Daylap already serves");
        else expect(await ask(started.value.url, "select 1 as one")).toEqual([{ one: 1 }]);
      }
      expect(await readdir(folder)).toEqual(["postgresql"]);
    } finally {
      for (const started of both) if (started.ok) await started.value.stop();
    }
  });
});

describe("stopping", () => {
  it("ends the server although clients are still connected, and may be asked for twice", async () => {
    const folder = await makeFolder();
    const server = await start(folder);
    const database = openDatabase(server.url);
    await database.query("select 1");
    await Promise.all([server.stop(), server.stop()]);
    await server.stop();
    await database.close();
    expect(await findPostmaster(clusterIn(folder).data)).toEqual({ kind: "none" });
  });
});

function canConnect(host: string, port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: 2_000 });
    const end = (value: boolean) => () => {
      socket.destroy();
      resolve(value);
    };
    socket.once("connect", end(true)).once("error", end(false)).once("timeout", end(false));
  });
}
