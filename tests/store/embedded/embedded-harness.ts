/**
 * Folders and servers of a test of the embedded server. All of them are gone after each test, however it ended.
 */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { chmod, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach } from "vitest";
import { openDatabase } from "../../../src/store/database.js";
import { clusterIn } from "../../../src/store/embedded/cluster.js";
import {
  startEmbeddedServer,
  type EmbeddedOptions,
  type EmbeddedServer,
} from "../../../src/store/embedded/embedded-server.js";
import {
  findPostgresPrograms,
  type PostgresPrograms,
} from "../../../src/store/embedded/postgres-programs.js";
import { findPostmaster } from "../../../src/store/embedded/postmaster.js";
import { makeServerFolder, removeServerFolder } from "../../support/server-folder.js";

export interface Embedded {
  readonly makeFolder: () => Promise<string>;
  /** Starts a server, which must succeed. */
  readonly start: (folder: string, options?: EmbeddedOptions) => Promise<EmbeddedServer>;
  /** Starts a server, which must fail: the sentence. */
  readonly findRefusal: (folder: string, options?: EmbeddedOptions) => Promise<string>;
  readonly spawnApp: (folder: string) => App;
}

/** An app in a process of its own, from the built code, that serves a folder until it is killed. */
export interface App {
  /** When it is up. */
  readonly url: Promise<string>;
  kill(): Promise<void>;
}

const BUILT = new URL("../../../dist/store/embedded/embedded-server.js", import.meta.url).href;

export function useEmbedded(): Embedded {
  const endings: (() => Promise<void>)[] = [];
  afterEach(async () => {
    for (const end of endings.splice(0).toReversed()) await end();
  });
  const start = async (folder: string, options?: EmbeddedOptions): Promise<EmbeddedServer> => {
    const started = await startEmbeddedServer(folder, options);
    if (!started.ok) throw new Error(started.error);
    endings.push(() => started.value.stop());
    return started.value;
  };
  return {
    makeFolder: async () => {
      const folder = await makeServerFolder();
      endings.push(() => removeServerFolder(folder));
      return folder;
    },
    start,
    findRefusal: async (folder, options) => {
      const started = await startEmbeddedServer(folder, options);
      if (!started.ok) return started.error;
      await started.value.stop();
      throw new Error("The server started.");
    },
    spawnApp: (folder) => {
      const app = spawnApp(folder);
      endings.push(() => app.kill());
      return app;
    },
  };
}

function spawnApp(folder: string): App {
  const code = `
    const { startEmbeddedServer } = await import(${JSON.stringify(BUILT)});
    const started = await startEmbeddedServer(${JSON.stringify(folder)});
    console.log(started.ok ? started.value.url : started.error);
    setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ["--input-type=module", "-e", code], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const exit = once(child, "exit");
  const url = once(child.stdout.setEncoding("utf8"), "data").then(([line]: unknown[]) => {
    const text = String(line).trim();
    if (!text.startsWith("postgres://")) throw new Error(text);
    return text;
  });
  return {
    url,
    kill: async () => {
      child.kill("SIGKILL");
      await exit;
    },
  };
}

/** Asks once, over a connection of its own. */
export async function ask<Row extends object>(url: string, sql: string): Promise<readonly Row[]> {
  const database = openDatabase(url);
  try {
    return await database.query<Row>(sql);
  } finally {
    await database.close();
  }
}

/** Asks until there is an answer. */
export async function askUntilAnswered<Row extends object>(
  url: string,
  sql: string,
): Promise<readonly Row[]> {
  for (;;) {
    const rows = await ask<Row>(url, sql).catch(() => undefined);
    if (rows !== undefined) return rows;
    await sleep(50);
  }
}

/** The process number of the folder's server. */
export async function pidOf(folder: string): Promise<number> {
  const found = await findPostmaster(clusterIn(folder).data);
  if (found.kind !== "running") throw new Error(`The server of ${folder} does not run: ${found.kind}`);
  return found.pid;
}

/** The real programs, with a shell script in the place of initdb. */
export async function makeProgramsWith(folder: string, script: string): Promise<PostgresPrograms> {
  const found = await findPostgresPrograms();
  if (!found.ok) throw new Error(found.error);
  const initdb = join(folder, "fake");
  await writeFile(initdb, `#!/bin/sh\n${script}\n`);
  await chmod(initdb, 0o755);
  return { ...found.value, initdb };
}
