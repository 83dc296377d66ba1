/**
 * `daylap serve`: the app on the company's database, or on the demo company. Prints its address, and ends well on an
 * interrupt or a request to terminate: no new requests, those under way are answered, changes and plans end.
 */
import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Logger } from "pino";
import type { Actor, Person } from "../domain/person.js";
import { fail, ok, type Result } from "../domain/result.js";
import { PRODUCT_NAME } from "../domain/product.js";
import { civilDateAt, type Minute } from "../domain/time.js";
import { openCalls } from "../services/calls.js";
import { machineClock, makeFixedClock } from "../services/clock.js";
import { openDesk, type OpenDesk } from "../services/company-desk.js";
import type { DatabasePlace } from "../services/company-database.js";
import { layDemo, readDemoTemplate } from "../services/demo.js";
import { openFeeds } from "../services/feeds.js";
import { openPeople } from "../services/people.js";
import { openPhotos } from "../services/photos.js";
import { openRecord } from "../services/record.js";
import { openRipples } from "../services/ripples.js";
import { openSiteReports } from "../services/site-reports.js";
import { IMPROVING, IMPROVING_BY_COUNT, QUICK_ITERATIONS, USUAL_SEED } from "../services/planning-budget.js";
import { findTimeZone } from "../store/company-store.js";
import type { Database } from "../store/database.js";
import { createApp } from "../web/app.js";
import { paths } from "../web/paths.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import { parseWhole, type Words } from "./command-line.js";
import { readCompanyArgument } from "./company-argument.js";
import { findDatabasePlace, nameDatabasePlace, onDatabase, USUAL_FOLDER } from "./database-place.js";
import { listenUntilStopped } from "./listen.js";
import { makeLog } from "./log.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

const USUAL_PORT = 4630;
/** Addresses that only this machine can reach. */
const OWN_MACHINE: ReadonlySet<string> = new Set(["127.0.0.1", "::1", "localhost"]);
/** Whoever looks at the demo, which signs in by itself. */
const DEMO_PERSON: Person = {
  id: 0,
  name: "Demo dispatcher",
  account: "demo",
  role: "owner",
  version: 1,
  hasPassword: false,
  isDisabled: false,
};
const COMMAND_LINE: Actor = { personId: null, personName: "Command line" };

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

/** What is served, and how. */
interface Service {
  readonly place: DatabasePlace;
  readonly isDemo: boolean;
  /** By the clock of a company in that zone; undefined where the clock goes. */
  readonly asOfIn: (zone: string) => Result<Minute | undefined, string>;
  /** The JSON of a company file for a database that has none. */
  readonly firstCompany: unknown;
  /** Where that company is; UTC where there is none. */
  readonly firstZone: string;
  readonly address: { readonly port: number; readonly host: string };
  /** How many proxies in front of the app say from where a request comes. */
  readonly proxies: number;
}

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
    return await serve({ place, isDemo: true, ...first.value, address, proxies: proxies.value }, output);
  } finally {
    if (named === undefined) await rm(folder, { recursive: true, force: true });
  }
}

async function serve(service: Service, output: Output): Promise<ExitCode> {
  const log = makeLog(service.isDemo ? "error" : "info");
  return onDatabase(service.place, output, async (database) => {
    // Of a company that is there already, it is its clock that counts.
    const read = service.asOfIn((await findTimeZone(database)) ?? service.firstZone);
    if (!read.ok) return refuse(output, [read.error]);
    const asOf = read.value;
    const desk = await openDesk(database, {
      log: (error) => log.error({ err: error }, "bug"),
      seed: USUAL_SEED,
      iterations: QUICK_ITERATIONS,
      improving: asOf === undefined ? IMPROVING : IMPROVING_BY_COUNT,
      clock: asOf === undefined ? machineClock : makeFixedClock(asOf),
    });
    try {
      return await serveDesk(service, asOf, database, desk, log, output);
    } finally {
      await desk.close();
    }
  });
}

async function serveDesk(
  service: Service,
  asOf: Minute | undefined,
  database: Database,
  desk: OpenDesk,
  log: Logger,
  output: Output,
): Promise<ExitCode> {
  const { firstCompany, isDemo, address, place, proxies } = service;
  if (firstCompany !== undefined && desk.isEmpty) await desk.load(firstCompany, COMMAND_LINE, "");
  const people = openPeople(database);
  const invitation = isDemo ? undefined : await people.firstRun();
  const stop = new AbortController();
  const ripples = openRipples(database, { log: (error) => log.error({ err: error }, "bug") });
  const app = createApp(
    {
      desk,
      people,
      record: openRecord(database),
      calls: openCalls(database),
      feeds: openFeeds(database),
      photos: openPhotos(database, asOf === undefined ? machineClock : makeFixedClock(asOf)),
      ripples,
      reports: openSiteReports(database, asOf === undefined ? machineClock : makeFixedClock(asOf)),
      isReady: () => answers(database),
    },
    {
      log: (reference, error) => log.error({ reference, err: error }, "bug"),
      noteAnswer: (answer) => log.info(answer, "answered"),
      stopped: stop.signal,
      ...(asOf !== undefined && { clock: makeFixedClock(asOf) }),
      ...(isDemo && { automatic: DEMO_PERSON }),
      ...(proxies > 0 && { trustProxy: proxies }),
    },
  );
  const tell = (url: string): void => {
    output.out(`${PRODUCT_NAME} is at ${url}\nDatabase: ${nameDatabasePlace(place)}\n`);
    if (isDemo) output.out("This is the demo: whoever is on this machine is signed in.\n");
    if (invitation !== undefined) {
      const link = new URL(paths.invitation(invitation), url).href;
      output.out(
        `Nobody is the owner yet. Open this link, which works once, and set a password:\n  ${link}\n`,
      );
    }
    output.out("Stop it with Ctrl+C.\n");
  };
  const stopped = await listenUntilStopped(app, address, tell, () => stop.abort());
  await ripples.close();
  return stopped.ok ? GOOD : refuse(output, [stopped.error]);
}

/** A folder that others may pass through: run by root, the database is another user's, deeper in it and closed. */
async function makeDemoFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "daylap-"));
  await chmod(folder, 0o711);
  return folder;
}

async function answers(database: Database): Promise<boolean> {
  try {
    await database.query("select 1");
    return true;
  } catch {
    // What went wrong shows with the first page that needs the database.
    return false;
  }
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
