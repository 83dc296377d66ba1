/**
 * `daylap serve`: the board on this machine, on a company file or on the demo company. Prints its address, and ends
 * well on an interrupt or a request to terminate: no new requests, those under way are answered.
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fail, ok, type Result } from "../domain/result.js";
import { PRODUCT_NAME } from "../domain/product.js";
import { civilDateAt, type Minute } from "../domain/time.js";
import { machineClock, makeFixedClock } from "../services/clock.js";
import { layDemo, readDemoTemplate } from "../services/demo.js";
import { openFileDesk } from "../services/file-desk.js";
import { IMPROVING, IMPROVING_BY_COUNT, QUICK_ITERATIONS, USUAL_SEED } from "../services/planning-budget.js";
import { readCompanyFile, reasonOf, toCompanyText } from "../store/company-file-store.js";
import { createApp } from "../web/app.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import { parseWhole, type Words } from "./command-line.js";
import { listReadSentences } from "./company-argument.js";
import { listenUntilStopped } from "./listen.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

const USUAL_PORT = 4630;
const USUAL_FILE = "company.json";
const DEMO_FILE = "daylap-demo.json";
/** Addresses that only this machine can reach. */
const OWN_MACHINE: ReadonlySet<string> = new Set(["127.0.0.1", "::1", "localhost"]);

export const serveCommand: Command = {
  grammar: {
    command: "serve",
    values: { file: "FILE", folder: "FOLDER", "as-of": "TIME", port: "N", host: "ADDRESS" },
    switches: ["demo"],
    files: [],
  },
  usage: "daylap serve [--file FILE | --demo [--folder FOLDER]] [--as-of TIME] [--port N] [--host ADDRESS]",
  summary:
    `serve the board on port ${USUAL_PORT} of this machine (0: any free port) for a company file ` +
    `(${USUAL_FILE} where none is named) or for the demo company`,
  run: runServe,
};

/** The company file that is served, and how to clear away what was laid for this run only. */
interface ServedFile {
  readonly path: string;
  readonly asOf: Minute | undefined;
  readonly clearAway: () => Promise<void>;
}

async function runServe(words: Words, output: Output): Promise<ExitCode> {
  const port = parseWhole(words, "port", { least: 0, most: 65_535, usual: USUAL_PORT });
  const clash = findClash(words);
  if (!port.ok || clash !== undefined) {
    return refuse(output, [...(port.ok ? [] : [port.error]), ...(clash === undefined ? [] : [clash])]);
  }
  const file = words.switches.has("demo") ? await layDemoFile(words) : await findFile(words);
  if (!file.ok) return refuse(output, file.error);
  const { path, asOf, clearAway } = file.value;
  try {
    return await serveFile(
      path,
      asOf,
      { port: port.value, host: words.values.get("host") ?? "127.0.0.1" },
      output,
    );
  } finally {
    await clearAway();
  }
}

async function serveFile(
  path: string,
  asOf: Minute | undefined,
  address: { readonly port: number; readonly host: string },
  output: Output,
): Promise<ExitCode> {
  const clock = asOf === undefined ? machineClock : makeFixedClock(asOf);
  const improving = asOf === undefined ? IMPROVING : IMPROVING_BY_COUNT;
  const desk = await openFileDesk({ path, seed: USUAL_SEED, iterations: QUICK_ITERATIONS, improving, clock });
  if (!desk.ok) return refuse(output, listReadSentences(desk.error));
  try {
    const stopped = await listenUntilStopped(createApp(desk.value), address, (url) => {
      output.out(`${PRODUCT_NAME} is at ${url}\nCompany file: ${path}\n`);
      if (!OWN_MACHINE.has(address.host)) {
        output.out("There is no sign-in yet: whoever can reach this address can read and change the plan.\n");
      }
      output.out("Stop it with Ctrl+C.\n");
    });
    return stopped.ok ? GOOD : refuse(output, [stopped.error]);
  } finally {
    await desk.value.close();
  }
}

function findClash(words: Words): string | undefined {
  const isDemo = words.switches.has("demo");
  if (isDemo && words.values.has("file")) {
    return "The options --demo and --file do not go together: --demo lays a company file of its own.";
  }
  if (!isDemo && words.values.has("folder")) return "The option --folder goes only with --demo.";
  return undefined;
}

async function findFile(words: Words): Promise<Result<ServedFile, readonly string[]>> {
  const path = words.values.get("file") ?? USUAL_FILE;
  const read = await readCompanyFile(path);
  const asOf = parseAsOf(words, read.ok ? read.value.company.company.timeZone : "UTC");
  if (read.ok && asOf.ok) return ok({ path, asOf: asOf.value, clearAway: () => Promise.resolve() });
  const advice =
    words.values.has("file") || read.ok ? [] : ["Name a company file with --file, or try --demo."];
  return fail([
    ...(asOf.ok ? [] : [asOf.error]),
    ...(read.ok ? [] : listReadSentences(read.error)),
    ...advice,
  ]);
}

/** Lays the demo company into the folder that is named, or into one of its own that goes when the server stops. */
async function layDemoFile(words: Words): Promise<Result<ServedFile, readonly string[]>> {
  const template = await readDemoTemplate();
  const asOf = parseAsOf(words, template.timeZone);
  if (!asOf.ok) return fail([asOf.error]);
  const today = civilDateAt(asOf.value ?? machineClock(), template.timeZone);
  const named = words.values.get("folder");
  const folder = named ?? (await mkdtemp(join(tmpdir(), "daylap-")));
  const path = join(folder, DEMO_FILE);
  try {
    await writeFile(path, toCompanyText(layDemo(template, today)));
  } catch (error) {
    return fail([`The demo company cannot be laid into ${folder}: ${reasonOf(error)}.`]);
  }
  const clearAway = (): Promise<void> =>
    named === undefined ? rm(folder, { recursive: true, force: true }) : Promise.resolve();
  return ok({ path, asOf: asOf.value, clearAway });
}
