/**
 * A phone's browser with a profile of its own on disk, which can be switched off in the middle of anything and on again:
 * what is to outlive that must be in the profile.
 */
import { spawn } from "node:child_process";
import { chromium, type Page } from "playwright-core";
import { BROWSER_ARGUMENTS, BROWSER_PROGRAM } from "./browser.js";
import { PHONE } from "./crew-phone.js";

export interface PhoneBrowser {
  readonly page: Page;
  /** As an empty battery does. */
  switchOff(): Promise<void>;
  /** As its owner does: what the browser writes only now and then, such as cookies, is written. */
  close(): Promise<void>;
}

/** Starts it on the profile in `folder`, which may be empty, with one open page. */
export async function switchOn(folder: string): Promise<PhoneBrowser> {
  const child = spawn(
    BROWSER_PROGRAM,
    [
      "--headless=new",
      ...BROWSER_ARGUMENTS,
      `--user-data-dir=${folder}`,
      "--remote-debugging-port=0",
      `--window-size=${PHONE.viewport.width},${PHONE.viewport.height}`,
      "about:blank",
    ],
    { stdio: ["ignore", "ignore", "pipe"] },
  );
  const ended = new Promise<void>((resolve) => {
    child.once("close", () => resolve());
  });
  const address = await new Promise<string>((resolve, reject) => {
    let said = "";
    child.stderr.setEncoding("utf8").on("data", (text: string) => {
      said += text;
      const listening = /DevTools listening on (\S+)/.exec(said)?.[1];
      if (listening !== undefined) resolve(listening);
    });
    void ended.then(() => reject(new Error(`the browser ended before it listened: ${said}`)));
  });
  const browser = await chromium.connectOverCDP(address);
  const [context] = browser.contexts();
  if (context === undefined) throw new Error("the browser has no profile");
  const page = context.pages()[0] ?? (await context.newPage());
  return {
    page,
    async switchOff() {
      child.kill("SIGKILL");
      await ended;
      await browser.close();
    },
    async close() {
      const session = await browser.newBrowserCDPSession();
      await session.send("Browser.close");
      await ended;
    },
  };
}
