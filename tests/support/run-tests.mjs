/**
 * The test command. Sees to what the tests need beyond npm packages (Chromium, a second PostgreSQL server), builds, runs
 * vitest with the fixed configuration, and ends with the runner's own counts: `N passed, N failed`.
 * Fails when a test fails, when a test file does not load, when nothing ran, and when a whole run left a test out.
 * Arguments go to vitest (`npm test -- tests/domain`). With CI=true nothing may be left out.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { whyNoChromium } from "./chromium.mjs";
import { interruption, root, runStep } from "./run-step.mjs";
import { openSecondDatabase } from "./second-database.mjs";
import { readReport } from "./test-report.mjs";

const NOTHING = { passed: 0, failed: 0, good: false };
const inCi = process.env.CI === "true" || process.env.CI === "1";
const args = process.argv.slice(2);

const { passed, failed, good } = await main();
if (interruption() !== undefined) console.error(`The run was ended by ${interruption()}.`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = good && interruption() === undefined ? 0 : 1;

async function main() {
  const wander = args.includes("--wander");
  const filters = args.filter((arg) => arg !== "--wander");
  const withoutBrowser = await whyNoChromium();
  if (withoutBrowser !== undefined && inCi) {
    console.error(`The browser tests cannot run: ${withoutBrowser}.`);
    return NOTHING;
  }
  const env = { ...process.env };
  if (env.TEST_DATABASE_URL === "") delete env.TEST_DATABASE_URL;
  if (wander) env.DAYLAP_SEED = String(Math.floor(Math.random() * 2 ** 31));
  const npm = process.platform === "win32" ? "npm.cmd" : "npm";
  if (!(await runStep(npm, ["run", "--silent", "build"], env))) {
    console.error("The build failed, so no test ran.");
    return NOTHING;
  }
  const second = await openSecondDatabase();
  try {
    if (second.why !== undefined && inCi) {
      console.error(`The contract tests cannot run on a second PostgreSQL server: ${second.why}.`);
      return NOTHING;
    }
    if (second.url !== undefined) env.TEST_DATABASE_URL = second.url;
    const counts = await runVitest(filters, withoutBrowser, env);
    if (withoutBrowser !== undefined) console.log(`The browser tests did not run: ${withoutBrowser}.`);
    if (second.why !== undefined) {
      console.log(`The contract tests ran on the embedded PostgreSQL server only: ${second.why}.`);
    }
    if (wander) console.log(`Property tests ran with DAYLAP_SEED=${env.DAYLAP_SEED}`);
    return counts;
  } finally {
    second.stop?.();
  }
}

async function runVitest(filters, withoutBrowser, env) {
  const folder = mkdtempSync(join(tmpdir(), "daylap-tests-"));
  const report = join(folder, "report.json");
  try {
    const endedWell = await runStep(
      process.execPath,
      [
        join(root, "node_modules/vitest/vitest.mjs"),
        "run",
        "--config=tests/vitest.config.ts",
        "--reporter=default",
        "--reporter=json",
        `--outputFile.json=${report}`,
        ...(withoutBrowser === undefined ? [] : ["--exclude", "tests/browser/**"]),
        ...filters,
      ],
      env,
    );
    return readReport(report, endedWell, filters.length === 0);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
