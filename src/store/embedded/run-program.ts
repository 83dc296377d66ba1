/**
 * Runs one of PostgreSQL's programs to its end, as the user that is asked for, and hands back what it said.
 * Nothing of the environment that could make PostgreSQL look elsewhere reaches it, and it speaks English.
 */
import { spawn } from "node:child_process";
import { setTimeout as sleep } from "node:timers/promises";
import { reasonOf } from "../company-file-store.js";

/** A user of the operating system. */
export interface SystemUser {
  readonly name: string;
  readonly uid: number;
  readonly gid: number;
}

/** How a program ended: its exit code (null where it did not run or was killed), and all that it printed. */
export interface Ended {
  readonly code: number | null;
  readonly output: string;
}

/** What is still to be read when a program has ended is there at once. */
const LAST_WORDS_MS = 200;

/** Runs a program. `user` undefined is this process's own; `cwd` must be there. Never rejects. */
export async function runProgram(
  program: string,
  args: readonly string[],
  { user, cwd }: { readonly user: SystemUser | undefined; readonly cwd: string },
): Promise<Ended> {
  const child = spawn(program, args, {
    cwd,
    env: environment(),
    stdio: ["ignore", "pipe", "pipe"],
    windowsHide: true,
    ...(user === undefined ? {} : { uid: user.uid, gid: user.gid }),
  });
  let output = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding("utf8").on("data", (text: string) => (output += text));
  }
  const closed = new Promise((resolve) => child.once("close", resolve));
  const code = await new Promise<number | null>((resolve) => {
    child.once("exit", resolve);
    child.once("error", (error) => {
      output += `${program} cannot be run: ${reasonOf(error)}.`;
      resolve(null);
    });
  });
  // A server that was started keeps these pipes open on some systems, so their end is not waited for.
  await Promise.race([closed, sleep(LAST_WORDS_MS)]);
  child.stdout.destroy();
  child.stderr.destroy();
  return { code, output: output.trim() };
}

function environment(): NodeJS.ProcessEnv {
  const entries = Object.entries(process.env).filter(([name]) => !/^(PG|LC_|LANG)/.test(name));
  return { ...Object.fromEntries(entries), LC_ALL: "C" };
}
