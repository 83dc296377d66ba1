/**
 * `daylap serve`: reads the words of the command. What serves is loaded only here, for it takes longer to load than most
 * other commands to run.
 */
import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt } from "../domain/time.js";
import { machineClock } from "../services/clock.js";
import { layDemo, readDemoTemplate } from "../services/demo.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import { parseWhole, type Words } from "./command-line.js";
import { readCompanyArgument } from "./company-argument.js";
import { findDatabasePlace, USUAL_FOLDER } from "./database-place.js";
import type { ExitCode, Output } from "./output.js";
import type { Service } from "./serving.js";

const USUAL_PORT = 4630;
/** Addresses that only this machine can reach. */
const OWN_MACHINE: ReadonlySet<string> = new Set(["127.0.0.1", "::1", "localhost"]);
export const serveCommand: Command = {
  grammar: {
    command: "serve",
    values: { data: "FOLDER", file: "FILE", "as-of": "TIME", port: "N", host: "ADDRESS", proxies: "N" },
    switches: ["demo"],
    files: [],
  },
  usage:
    "daylap serve [--data FOLDER] [--file FILE | --demo] [--as-of TIME] [--port N] [--host ADDRESS] [--proxies N]",
  summary:
    `serve the app on port ${USUAL_PORT} of this machine (0: any free port). The company is in DATABASE_URL or in ` +
    `FOLDER (${USUAL_FOLDER}); --file loads a company file where there is none yet; --demo shows an invented company`,
  run: runServe,
};

async function runServe(words: Words, output: Output): Promise<ExitCode> {
  const port = parseWhole(words, "port", { least: 0, most: 65_535, usual: USUAL_PORT });
  const proxies = parseWhole(words, "proxies", { least: 0, most: 10, usual: 0 });
  const host = words.values.get("host") ?? "127.0.0.1";
  const clashes = listClashes(words, host);
  if (!port.ok || !proxies.ok || clashes.length > 0) {
    const wrong = [port, proxies].flatMap((option) => (option.ok ? [] : [option.error]));
    return refuse(output, [...wrong, ...clashes]);
  }
  const address = { port: port.value, host };
  if (!words.switches.has("demo")) {
    const place = findDatabasePlace(words);
    if (!place.ok) return refuse(output, [place.error]);
    const first = await findFirstCompany(words);
    if (!first.ok) return refuse(output, first.error);
    const { serve } = await import("./serving.js");
    return serve(
      { place: place.value, isDemo: false, ...first.value, address, proxies: proxies.value },
      output,
    );
  }
  const first = await layDemoCompany(words);
  if (!first.ok) return refuse(output, first.error);
  const named = words.values.get("data");
  const folder = named === undefined ? await makeDemoFolder() : resolve(named);
  try {
    const place = { kind: "folder", folder } as const;
    const { serve } = await import("./serving.js");
    return await serve({ place, isDemo: true, ...first.value, address, proxies: proxies.value }, output);
  } finally {
    if (named === undefined) await rm(folder, { recursive: true, force: true });
  }
}

/** A folder that others may pass through: run by root, the database is another user's, deeper in it and closed. */
async function makeDemoFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "daylap-"));
  await chmod(folder, 0o711);
  return folder;
}

function listClashes(words: Words, host: string): readonly string[] {
  if (!words.switches.has("demo")) return [];
  return [
    ...(words.values.has("file")
      ? ["The options --demo and --file do not go together: --demo brings a company of its own."]
      : []),
    ...(OWN_MACHINE.has(host)
      ? []
      : ["The demo signs everybody in, so it is served to this machine only: leave --host out."]),
  ];
}

type FirstCompany = Pick<Service, "firstCompany" | "firstZone" | "asOfIn">;

async function findFirstCompany(words: Words): Promise<Result<FirstCompany, readonly string[]>> {
  const path = words.values.get("file");
  const read = path === undefined ? undefined : await readCompanyArgument(path);
  const firstZone = read?.ok === true ? read.value.company.company.timeZone : "UTC";
  const asOfIn: Service["asOfIn"] = (zone) => parseAsOf(words, zone);
  // What is no time by any clock is told before anything is opened.
  const asOf = asOfIn(firstZone);
  if (asOf.ok && read?.ok !== false) return ok({ firstCompany: read?.value.source, firstZone, asOfIn });
  return fail([...(asOf.ok ? [] : [asOf.error]), ...(read?.ok === false ? read.error : [])]);
}

async function layDemoCompany(words: Words): Promise<Result<FirstCompany, readonly string[]>> {
  const template = await readDemoTemplate();
  const asOf = parseAsOf(words, template.timeZone);
  if (!asOf.ok) return fail([asOf.error]);
  const today = civilDateAt(asOf.value ?? machineClock(), template.timeZone);
  return ok({
    firstCompany: layDemo(template, today),
    firstZone: template.timeZone,
    asOfIn: (zone) => parseAsOf(words, zone),
  });
}
