/** Reads what vitest reports, and decides whether a run was good. */
import { existsSync, readFileSync } from "node:fs";

/**
 * The counts of a report file. A test file that does not load counts as one failure; a whole run that left tests out is
 * not good, and neither is one in which nothing ran.
 */
export function readReport(report, endedWell, whole) {
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
