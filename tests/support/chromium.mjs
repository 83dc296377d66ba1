/** Sees to the browser of the browser tests. */
import { existsSync } from "node:fs";
import { installFromDebian } from "./run-step.mjs";

/** Undefined where Chromium is there, or could be put there; otherwise the reason, as half a sentence. */
export async function whyNoChromium() {
  if (hasChromium()) return undefined;
  const named = process.env.DAYLAP_CHROMIUM;
  if (named !== undefined) return `DAYLAP_CHROMIUM names ${named}, which is not there`;
  const failure = await installFromDebian("Chromium", "chromium");
  if (failure !== undefined) return `${failure} (install it, or name its path in DAYLAP_CHROMIUM)`;
  return hasChromium() ? undefined : "Debian's package chromium was installed and brought no chromium";
}

function hasChromium() {
  return existsSync(process.env.DAYLAP_CHROMIUM ?? "/usr/bin/chromium");
}
