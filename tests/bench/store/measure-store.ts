/** The bars of the store and of the pages, each taken on `daylap serve` as processes of their own (built into dist). */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { addDays, civilDate } from "../../../src/domain/time.js";
import { Random } from "../../../src/planner/core/random.js";
import { startEmbeddedServer } from "../../../src/store/embedded/embedded-server.js";
import { aCompany, aJob, aTask } from "../../support/company-builder.js";
import { runKillRounds } from "../../support/kill-rounds.js";
import { runManyWriters } from "../../support/many-writers.js";
import { runPublishKillRounds } from "../../support/publish-kill-rounds.js";
import { PUBLISHED_COMPANY } from "../../support/published-company.js";
import { becomeOwner, serveApp, stopApp } from "../../support/served-app.js";
import { makeServerFolder, removeServerFolder } from "../../support/server-folder.js";
import { bigCompany } from "../big-company.js";
import type { Measured } from "../company/measure.js";
import { loadBoard } from "./board-load.js";
import { loadSheets } from "./sheet-load.js";

const KILLS = 200;
const PUBLISH_KILLS = 100;
const WRITERS = 50;
const WRITING_MS = 60_000;
const ASKERS = 50;
const ASKING_MS = 15_000;
const PHONES = 100;
/** Days of the demo company that are rendered one by one. */
const SHEET_DAYS = 14;

/** Acknowledged changes that are gone after deaths in the middle of writes. */
export function measureKills(): Promise<Measured> {
  return withCompany(aSmallCompany(), async (folder, file) => {
    const { acknowledged, lost, longestStartMs } = await runKillRounds(folder, file, KILLS, new Random(1));
    return {
      value: lost.length,
      more: `of ${acknowledged} acknowledged in ${KILLS} kills; longest start ${longestStartMs.toFixed(0)} ms`,
      faults: acknowledged === 0 ? ["nothing was acknowledged"] : [],
    };
  });
}

/** Changes that are lost, doubled or without a record after many people wrote through two apps, one of which died. */
export function measureWriters(): Promise<Measured> {
  return withCompany(aSmallCompany(), (folder, file) =>
    withServer(folder, async (url) => {
      const run = await runManyWriters(url, file, WRITERS, WRITING_MS);
      return {
        value: run.lost.length + run.doubled.length + Math.abs(run.unrecorded),
        more: `of ${run.acknowledged} acknowledged by ${WRITERS} writers in ${WRITING_MS / 1_000} s`,
        faults: run.acknowledged === 0 ? ["nothing was acknowledged"] : [],
      };
    }),
  );
}

/** Publishes that are half done, or answered as done and gone, after deaths in the middle of publishing. */
export function measurePublishKills(): Promise<Measured> {
  return withCompany(PUBLISHED_COMPANY, (folder, file) =>
    withServer(folder, async (url) => {
      const { acknowledged, wrong } = await runPublishKillRounds(url, file, PUBLISH_KILLS, new Random(1));
      return {
        value: wrong.length,
        more: `${acknowledged} publishes and undos acknowledged in ${PUBLISH_KILLS} kills`,
        faults: acknowledged === 0 ? ["nothing was acknowledged"] : wrong,
      };
    }),
  );
}

/** A server of its own in a folder, with an empty database that has been migrated. */
async function withServer<T>(folder: string, work: (url: string) => Promise<T>): Promise<T> {
  // An app that has served the folder once leaves it migrated.
  await stopApp(await serveApp(["--data", folder]));
  const server = await startEmbeddedServer(folder);
  if (!server.ok) throw new Error(server.error);
  try {
    return await work(server.value.url);
  } finally {
    await server.value.stop();
  }
}

/** How long the board of 1,000 open tasks takes when 50 people ask at once. */
export function measureBoard(): Promise<Measured> {
  const company = bigCompany({
    crews: 20,
    jobs: 40,
    tasks: 1_000,
    firstDate: civilDate("2026-12-08"),
    days: 120,
    seed: 1,
  });
  return withCompany(company, async (folder, file) => {
    const app = await serveApp(["--data", folder, "--file", file, "--as-of", "2026-12-07T18:00"]);
    try {
      const owner = await becomeOwner(app);
      await waitUntilPlanned(owner);
      const { answers, p95Ms, medianMs, failures } = await loadBoard(app, owner, ASKERS, ASKING_MS);
      return {
        value: p95Ms,
        more: `median ${medianMs.toFixed(0)} ms, ${(answers / (ASKING_MS / 1_000)).toFixed(0)} pages a second`,
        faults: failures > 0 ? [`${failures} answers were no page`] : [],
      };
    } finally {
      await stopApp(app);
    }
  });
}

/** How long the demo company's crews wait for their sheets: rendered one by one, and a hundred phones at once. */
export async function measureSheets(): Promise<readonly Measured[]> {
  const folder = await makeServerFolder();
  try {
    const app = await serveApp(["--data", folder, "--as-of", "2026-12-07T18:00"]);
    try {
      const owner = await becomeOwner(app);
      await owner.post("/company-file/demo", { seen: "0" });
      await waitUntilPlanned(owner);
      const links = (await owner.textOf("/crews")).matchAll(/href="\/crew\/([\w-]+)"/g);
      const crews = [...new Set([...links].flatMap(([, crew]) => crew ?? []))];
      const dates = Array.from({ length: SHEET_DAYS }, (_, day) => addDays(civilDate("2026-12-08"), day));
      const load = await loadSheets(app, owner, crews, dates, PHONES);
      const faults = load.failures > 0 ? [`${load.failures} answers were no page`] : [];
      const phones = `median ${load.medianMs.toFixed(0)} ms, ${crews.length} crews`;
      return [
        { value: load.renderMedianMs, more: `${load.rendered} sheets, request and answer included`, faults },
        { value: load.p95Ms, more: phones, faults: [] },
      ];
    } finally {
      await stopApp(app);
    }
  } finally {
    await removeServerFolder(folder);
  }
}

/** Nobody counts while the plan of a company that has just been loaded is still being improved. */
async function waitUntilPlanned(owner: { textOf(path: string): Promise<string> }): Promise<void> {
  for (;;) {
    const { line } = JSON.parse(await owner.textOf("/planning")) as { line: string | null };
    if (line === null) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

function aSmallCompany(): unknown {
  return aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1" })] })] });
}

async function withCompany(
  company: unknown,
  measure: (folder: string, file: string) => Promise<Measured>,
): Promise<Measured> {
  const folder = await makeServerFolder();
  const files = await mkdtemp(join(tmpdir(), "daylap-bench-"));
  const file = join(files, "company.json");
  try {
    await writeFile(file, JSON.stringify(company));
    return await measure(folder, file);
  } finally {
    await removeServerFolder(folder);
    await rm(files, { recursive: true, force: true });
  }
}
