/**
 * Makes the pictures of README.md again (`npm run pictures`): the board and a day sheet of the demo company, taken from
 * the built command with Chromium, as of a fixed evening. Ends with an error where a picture would be too heavy for a page.
 */
import { spawn } from "node:child_process";
import { mkdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const FOLDER = join(ROOT, "views/static/pictures");
const AS_OF = "2026-12-07T18:00";
const MOST_BYTES = 250_000;
/** Pixels under the last part that a picture shows. */
const SPACE_BELOW = 16;
/** Between two looks at the board while the plan is still being improved. */
const RELOAD_EVERY_MS = 500;
const MOST_RELOADS = 240;

/** `downTo` names the last part of the page that is shown; where it is left out, the picture is what a phone shows. */
const PICTURES = [
  { file: "board.png", path: "/", size: { width: 1280, height: 900 }, scale: 1, downTo: ".legend" },
  { file: "day-sheet.png", path: "/crew/birch", size: { width: 390, height: 844 }, scale: 2 },
];

const server = spawn(
  process.execPath,
  [join(ROOT, "dist/cli/daylap.js"), "serve", "--demo", "--as-of", AS_OF, "--port", "0"],
  { cwd: ROOT, stdio: ["ignore", "pipe", "inherit"] },
);
try {
  const url = await addressOf(server);
  await takeAll(url);
} finally {
  server.kill("SIGTERM");
}

/** The address that the server prints, without the slash at its end. */
function addressOf(process_) {
  return new Promise((resolve, reject) => {
    let seen = "";
    process_.stdout.setEncoding("utf8").on("data", (text) => {
      seen += text;
      const match = /(http:\/\/\S+)\/\s/.exec(seen);
      if (match !== null) resolve(match[1]);
    });
    process_.once("error", reject);
    process_.once("exit", (code) =>
      reject(new Error(`The demo ended with ${code} before it said where it is.`)),
    );
  });
}

async function takeAll(url) {
  mkdirSync(FOLDER, { recursive: true });
  const browser = await chromium.launch({
    executablePath: process.env.DAYLAP_CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu"],
  });
  try {
    await waitForPlan(browser, url);
    for (const { file, path, size, scale, downTo } of PICTURES) {
      const page = await browser.newPage({ viewport: size, deviceScaleFactor: scale });
      await open(page, url + path);
      await page.evaluate(() => document.fonts.ready);
      const at = join(FOLDER, file);
      await page.screenshot(
        downTo === undefined ? { path: at } : { path: at, ...(await clipOf(page, downTo)) },
      );
      await page.close();
      const { size: bytes } = statSync(at);
      console.log(`${file}: ${Math.ceil(bytes / 1000)} kB`);
      if (bytes > MOST_BYTES) throw new Error(`${file} has ${bytes} bytes, more than ${MOST_BYTES}.`);
    }
  } finally {
    await browser.close();
  }
}

async function open(page, address) {
  const answer = await page.goto(address);
  if (!answer?.ok()) throw new Error(`${address} answered ${answer?.status()}.`);
}

/** Asks for the board until it no longer says that the plan is being improved: what is shown is then the same each time. */
async function waitForPlan(browser, url) {
  const page = await browser.newPage();
  await open(page, url);
  for (let reloads = 0; (await page.locator(".planning").count()) > 0; reloads++) {
    if (reloads === MOST_RELOADS)
      throw new Error(`The plan was not done after ${reloads} reloads of the board.`);
    await page.waitForTimeout(RELOAD_EVERY_MS);
    await open(page, url);
  }
  await page.close();
}

/** From the top of the page to the bottom of its part `downTo`. */
async function clipOf(page, downTo) {
  const box = await page.locator(downTo).boundingBox();
  if (box === null) throw new Error(`The page shows no ${downTo}.`);
  const { width } = page.viewportSize();
  return { fullPage: true, clip: { x: 0, y: 0, width, height: Math.ceil(box.y + box.height + SPACE_BELOW) } };
}
