/**
 * The browser of the browser tests: Debian's Chromium through playwright-core. Where there is none, the tests say so in a
 * printed line and do not run; with CI=true that is a failure.
 */
import { existsSync } from "node:fs";
import { chromium, type Browser } from "playwright-core";

export const BROWSER_PROGRAM = process.env["DAYLAP_CHROMIUM"] ?? "/usr/bin/chromium";
export const BROWSER_ARGUMENTS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** Whether the browser tests can run here. Prints a line where they cannot; throws there with CI=true. */
export function browserAvailable(): boolean {
  if (existsSync(BROWSER_PROGRAM)) return true;
  const line = `No browser at ${BROWSER_PROGRAM}: the browser tests are not run. Install chromium, or set DAYLAP_CHROMIUM to its path.`;
  if (process.env["CI"] === "true") throw new Error(line);
  console.warn(line);
  return false;
}

/** Opens the browser; the test closes it. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: BROWSER_PROGRAM,
    headless: true,
    args: BROWSER_ARGUMENTS,
  });
}
