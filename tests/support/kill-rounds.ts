/**
 * Deaths in the middle of writes: an app is killed while several people add holds, and started again in the same folder.
 * What it had acknowledged must be there, and it must start every time. Every third time its database server dies with it.
 */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import type { Random } from "../../src/planner/core/random.js";
import { clusterIn } from "../../src/store/embedded/cluster.js";
import type { Visitor } from "../web/visitor.js";
import { becomeOwner, killApp, serveApp, stopApp, type ServedApp } from "./served-app.js";

export interface KillRounds {
  readonly rounds: number;
  /** Changes that were answered as done. */
  readonly acknowledged: number;
  /** Of those, the ones that a later start did not have. */
  readonly lost: readonly string[];
  /** The longest that a start took, in milliseconds. */
  readonly longestStartMs: number;
}

const WRITERS = 4;

/** `folder` is empty at first; `file` is a company file. Between two deaths there are 50 to 450 ms of writing. */
export async function runKillRounds(
  folder: string,
  file: string,
  rounds: number,
  random: Random,
): Promise<KillRounds> {
  const args = ["--data", folder, "--file", file, "--as-of", "2026-12-07T18:00"];
  let app = await serveApp(args);
  const owner = await becomeOwner(app);
  let acknowledged = 0;
  let longestStartMs = 0;
  const lost: string[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const kept: string[] = [];
    let isOver = false;
    const writers = Array.from({ length: WRITERS }, (_, writer) =>
      write(owner, `r${round}w${writer}`, kept, () => isOver),
    );
    await sleep(50 + random.below(400));
    if (round % 3 === 2) await killServer(folder);
    await killApp(app);
    isOver = true;
    await Promise.all(writers);
    acknowledged += kept.length;
    const begun = performance.now();
    app = await serveApp(args);
    longestStartMs = Math.max(longestStartMs, performance.now() - begun);
    owner.moveTo(app);
    const page = await owner.textOf("/holds");
    lost.push(...kept.filter((why) => !page.includes(`<strong>${why}</strong>`)));
    await liftAll(owner, page);
  }
  await end(app);
  return { rounds, acknowledged, lost, longestStartMs };
}

/** Adds one hold after another, and notes those that were answered as done. */
async function write(owner: Visitor, name: string, kept: string[], isOver: () => boolean): Promise<void> {
  for (let count = 0; !isOver(); count += 1) {
    const why = `${name}n${count}`;
    try {
      const answer = await owner.post("/holds", {
        from: "2027-03-01T08:00",
        to: "2027-03-01T09:00",
        trades: "outdoor",
        jobs: "all",
        why,
      });
      if (answer.status === 303) kept.push(why);
    } catch {
      // The app died before it answered: this one may be there or not.
    }
  }
}

/** So that the company does not grow from round to round. */
async function liftAll(owner: Visitor, page: string): Promise<void> {
  const forms = page.matchAll(
    /action="(\/holds\/[^"]+\/lift)">\s*<input type="hidden" name="version" value="(\d+)"/g,
  );
  for (const [, path = "", version = ""] of forms) await owner.post(path, { version });
}

async function killServer(folder: string): Promise<void> {
  const text = await readFile(join(clusterIn(folder).data, "postmaster.pid"), "utf8");
  process.kill(Number.parseInt(text, 10), "SIGKILL");
}

async function end(app: ServedApp): Promise<void> {
  const errors = await stopApp(app);
  if (errors !== "") throw new Error(`the app said on its way out: ${errors}`);
}
