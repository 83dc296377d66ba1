/**
 * The command `daylap` as a process of its own, built into dist: what it prints, where, and how it ends.
 */
import { spawn, type ChildProcess } from "node:child_process";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const PROGRAM = fileURLToPath(new URL("../../dist/cli/daylap.js", import.meta.url));

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Starts the command; `ended` resolves when it has ended and all its output is read. */
export function startCommand(args: readonly string[]): { child: ChildProcess; ended: Promise<Ended> } {
  const child = spawn(process.execPath, [PROGRAM, ...args], { cwd: ROOT, stdio: ["ignore", "pipe", "pipe"] });
  let out = "";
  let err = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => (out += text));
  child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
  const ended = new Promise<Ended>((resolve, reject) => {
    child.once("error", reject);
    child.once("close", (code) => resolve({ code, out, err }));
  });
  return { child, ended };
}

/** Runs the command to its end. */
export function runDaylap(...args: readonly string[]): Promise<Ended> {
  return startCommand(args).ended;
}

/** The first match in what a running command prints; fails when it ends before. */
export function waitForOutput(
  child: ChildProcess,
  ended: Promise<Ended>,
  pattern: RegExp,
): Promise<RegExpMatchArray> {
  return new Promise((resolve, reject) => {
    let seen = "";
    child.stdout?.on("data", (text: string) => {
      seen += text;
      const match = seen.match(pattern);
      if (match !== null) resolve(match);
    });
    void ended.then(({ code, err }) =>
      reject(new Error(`ended with ${code} before ${pattern} was printed: ${err}`)),
    );
  });
}
