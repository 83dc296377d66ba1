/**
 * `daylap serve` as a process, and its owner in a browser: for tests of what outlives a process. The owner's session is
 * in the database, so she stays signed in when the process is another one.
 */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { join } from "node:path";
import { Visitor } from "../web/visitor.js";

/** Both the tests and the bench run in the project's folder, wherever they were compiled to. */
const PROGRAM = join(process.cwd(), "dist/cli/daylap.js");

export interface ServedApp {
  /** Without a slash at the end. */
  readonly url: string;
  /** The link of the first run, where one was printed. */
  readonly invitation: string | undefined;
  readonly child: ChildProcess;
  /** Resolves with all that it wrote to standard error, once it has ended. */
  readonly ended: Promise<string>;
}

/** Starts it and waits until it serves; rejects with its errors where it does not. */
export function serveApp(args: readonly string[], env: NodeJS.ProcessEnv = {}): Promise<ServedApp> {
  const child = spawn(process.execPath, [PROGRAM, "serve", "--port", "0", ...args], {
    cwd: process.cwd(),
    env: { ...process.env, DAYLAP_LOG: "error", ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let out = "";
  let errors = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => (errors += text));
  const ended = new Promise<string>((resolve) => {
    child.once("close", () => resolve(errors));
  });
  return new Promise((resolve, reject) => {
    child.stdout.setEncoding("utf8").on("data", (text: string) => {
      out += text;
      if (!out.includes("Stop it with")) return;
      const url = (/ is at (http:\S+?)\/?\n/.exec(out)?.[1] ?? "").replace(/\/$/, "");
      resolve({ url, invitation: /set a password:\n {2}(\S+)\n/.exec(out)?.[1], child, ended });
    });
    void ended.then((text) => reject(new Error(`daylap serve ended before it served: ${text}${out}`)));
  });
}

/** Ends it as a power cut does. */
export async function killApp(app: ServedApp): Promise<void> {
  app.child.kill("SIGKILL");
  await app.ended;
}

export async function stopApp(app: ServedApp): Promise<string> {
  app.child.kill("SIGTERM");
  return app.ended;
}

/** Becomes the owner by the link of the first run, and sets a password. */
export async function becomeOwner(app: ServedApp): Promise<Visitor> {
  if (app.invitation === undefined) throw new Error("no link for the owner was printed");
  const visitor = new Visitor(app);
  const password = "a-long-phrase-of-the-tests";
  const fields = { name: "Robin", account: "robin", password, again: password };
  const answer = await visitor.post(new URL(app.invitation).pathname, fields);
  if (answer.status !== 303) throw new Error(`becoming owner was answered with ${answer.status}`);
  return visitor;
}
