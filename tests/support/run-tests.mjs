/**
 * The test command. Sees to what the tests need beyond npm packages (Chromium), builds, runs vitest with the fixed
 * configuration, and ends with the runner's own counts: `N passed, N failed`.
 * Fails when a test fails, when a test file does not load, when nothing ran, and when a whole run left a test out.
 * Arguments go to vitest (`npm test -- tests/domain`). With CI=true nothing may be left out.
 */
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const inCi = process.env.CI === "true" || process.env.CI === "1";
const args = process.argv.slice(2);

process.exitCode = main();

function main() {
  const wander = args.includes("--wander");
  const filters = args.filter((arg) => arg !== "--wander");
  const withoutBrowser = whyNoChromium();
  if (withoutBrowser !== undefined && inCi) {
    console.error(`The browser tests cannot run: ${withoutBrowser}.`);
    return finish({ passed: 0, failed: 0 }, false);
  }
  const env = { ...process.env };
  if (wander) env.DAYLAP_SEED = String(Math.floor(Math.random() * 2 ** 31));
  if (!isGood(run(process.platform === "win32" ? "npm.cmd" : "npm", ["run", "--silent", "build"], env))) {
    console.error("The build failed, so no test ran.");
    return finish({ passed: 0, failed: 0 }, false);
  }
  const counts = runVitest(filters, withoutBrowser, env);
  if (withoutBrowser !== undefined) console.log(`The browser tests did not run: ${withoutBrowser}.`);
  if (wander) console.log(`Property tests ran with DAYLAP_SEED=${env.DAYLAP_SEED}`);
  return finish(counts, counts.good);
}

/** Runs vitest and reads its report. A test file that does not load counts as one failure. */
function runVitest(filters, withoutBrowser, env) {
  const folder = mkdtempSync(join(tmpdir(), "daylap-tests-"));
  const report = join(folder, "report.json");
  try {
    const ended = run(
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
    return readReport(report, isGood(ended), filters.length === 0);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function readReport(report, endedWell, whole) {
  if (!existsSync(report)) {
    console.error("The test runner left no report.");
    return { passed: 0, failed: 0, good: false };
  }
  const { numPassedTests, numFailedTests, numPendingTests, numTodoTests, testResults } = JSON.parse(
    readFileSync(report, "utf8"),
  );
  const unloaded = testResults.filter(
    (file) => file.status === "failed" && !file.assertionResults.some((test) => test.status === "failed"),
  );
  for (const file of unloaded) console.error(`A test file failed outside its tests: ${file.name}`);
  const leftOut = numPendingTests + numTodoTests;
  if (whole && leftOut > 0)
    console.error(`${leftOut} tests were left out of a whole run, which is not allowed.`);
  const passed = numPassedTests;
  const failed = numFailedTests + unloaded.length;
  if (passed + failed === 0) console.error("No test ran.");
  if (!endedWell && failed === 0)
    console.error("The test runner ended with an error outside the tests (see above).");
  return { passed, failed, good: endedWell && failed === 0 && passed > 0 && !(whole && leftOut > 0) };
}

/** Undefined where Chromium is there, or could be put there; otherwise the reason, as half a sentence. */
function whyNoChromium() {
  if (hasChromium()) return undefined;
  const named = process.env.DAYLAP_CHROMIUM;
  if (named !== undefined) return `DAYLAP_CHROMIUM names ${named}, which is not there`;
  if (!existsSync("/etc/debian_version") || !isOnPath("apt-get")) {
    return "there is no Chromium here (install it, or name its path in DAYLAP_CHROMIUM)";
  }
  if (process.getuid?.() !== 0) {
    return "there is no Chromium here, and installing it takes root (apt-get install chromium)";
  }
  console.log("The browser tests need Chromium; installing Debian's.");
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  const steps = [["update"], ["install", "--yes", "--no-install-recommends", "chromium"]];
  for (const step of steps) {
    if (!isGood(run("apt-get", ["--quiet", ...step], env))) return `apt-get ${step[0]} failed`;
  }
  return hasChromium() ? undefined : "Debian's package chromium was installed and brought no chromium";
}

function hasChromium() {
  return existsSync(process.env.DAYLAP_CHROMIUM ?? "/usr/bin/chromium");
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

function run(program, programArgs, env) {
  return spawnSync(program, programArgs, { cwd: root, env, stdio: "inherit" });
}

function isGood(ended) {
  if (ended.error !== undefined) console.error(String(ended.error));
  return ended.status === 0;
}

function finish({ passed, failed }, good) {
  console.log(`${passed} passed, ${failed} failed`);
  return good ? 0 : 1;
}
