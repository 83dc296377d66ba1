/**
 * Runs the programs of the test command one after the other. An interruption ends the one that is running, and lets the
 * command put away what it set up.
 */
import { spawn } from "node:child_process";
import { accessSync, constants, existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));

let running;
let interruptedBy;

for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) {
  process.on(signal, () => {
    interruptedBy ??= signal;
    running?.kill(signal);
  });
}

/** The signal that this process has been ended by, or undefined. Nothing more is run then. */
export function interruption() {
  return interruptedBy;
}

/** Runs a program and shows what it prints. True where it ended well. */
export async function runStep(program, args, env = process.env) {
  if (interruptedBy !== undefined) return false;
  const ended = await new Promise((resolve) => {
    running = spawn(program, args, { cwd: root, env, stdio: "inherit" });
    running.once("error", (error) => resolve({ error }));
    running.once("exit", (status) => resolve({ status }));
  });
  running = undefined;
  if (ended.error !== undefined) console.error(String(ended.error));
  return ended.status === 0;
}

/** Installs packages of Debian. Undefined where that went well, otherwise the reason as half a sentence. */
export async function installFromDebian(what, ...packages) {
  if (!existsSync("/etc/debian_version") || !isOnPath("apt-get")) return `there is no ${what} here`;
  if (process.getuid?.() !== 0) {
    return `there is no ${what} here, and installing it takes root (apt-get install ${packages.join(" ")})`;
  }
  console.log(`The tests need ${what}; installing Debian's.`);
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  for (const step of [["update"], ["install", "--yes", "--no-install-recommends", ...packages]]) {
    if (!(await runStep("apt-get", ["--quiet", ...step], env))) return `apt-get ${step[0]} failed`;
  }
  return undefined;
}

function isOnPath(program) {
  return (process.env.PATH ?? "").split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}
