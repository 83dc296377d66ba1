/**
 * The demo company in a file of its own, planned by the real planner on 7 December 2026 after three in the afternoon, and
 * served by the shipped app.
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { invariant } from "../../src/domain/result.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import { openFileDesk } from "../../src/services/file-desk.js";
import { startApp, type RunningApp } from "../web/running-app.js";

const TODAY = civilDate("2026-12-07");

/** Starts it; closing it removes the file. */
export async function startDemoApp(): Promise<RunningApp> {
  const template = await readDemoTemplate();
  const folder = await mkdtemp(join(tmpdir(), "daylap-browser-"));
  const path = join(folder, "company.json");
  await writeFile(path, JSON.stringify(layDemo(template, TODAY)));
  const clock = makeFixedClock(minuteAt(TODAY, "15:10", template.timeZone));
  const desk = await openFileDesk({ path, seed: 1, iterations: 4, clock });
  invariant(desk.ok, "the demo company is a company file without faults");
  const app = await startApp(desk.value);
  return {
    ...app,
    close: async () => {
      await app.close();
      await rm(folder, { recursive: true });
    },
  };
}
