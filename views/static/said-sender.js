/*
 * Sends what waits on this phone, one after another in the order of saying, until the office has each. The server knows by
 * its key what has come before, so that an answer that was lost costs nothing but a second question. Pages and the
 * service worker send; a lock lets one at a time.
 */
import { changeSaid, listSaid, removeSaid } from "./said-store.js";

const PATIENCE_MS = { report: 30_000, photo: 180_000 };
/** No answer of the office, but of what stands before it or of its not being well: the same may be taken later. */
const LATER = new Set([408, 425, 429]);
/** What the office stumbles over so often no longer keeps back what was said after it. */
const MOST_FAILURES = 8;

/**
 * Tries everything once.
 * @returns {Promise<{ again: boolean, closed: readonly string[] }>} whether something should be tried again soon, and the
 * crews whose link opens nothing any more
 */
export function sendWaiting() {
  return alone(async () => {
    const closed = new Set();
    const passed = new Set();
    for (;;) {
      const said = await listSaid();
      const next = said.find((entry) => !passed.has(entry.number) && !closed.has(entry.crew) && isDue(entry, said));
      if (next === undefined) return { again: false, closed: [...closed] };
      passed.add(next.number);
      const { outcome, sentence } = await send(next);
      if (outcome === "taken") await removeSaid([next.number]);
      else if (outcome === "refused") await changeSaid(next.number, { state: "refused", sentence });
      else if (outcome === "closed") {
        closed.add(next.crew);
        await changeSaid(next.number, { state: "closed", sentence });
      } else if (outcome === "failed" && next.failures + 1 < MOST_FAILURES) {
        await changeSaid(next.number, { failures: next.failures + 1 });
        return { again: true, closed: [...closed] };
      } else if (outcome === "failed") {
        await changeSaid(next.number, { state: "refused", sentence, failures: 0 });
      } else return { again: true, closed: [...closed] };
    }
  });
}

/** Where the browser knows no locks, the keys alone see to it that nothing is taken twice. */
function alone(work) {
  return navigator.locks === undefined ? work() : navigator.locks.request("daylap-said", work);
}

/** What is refused waits for the crew lead, and its photos with it. */
function isDue(entry, said) {
  if (entry.state === "refused") return false;
  return !said.some((other) => other.state === "refused" && other.key === entry.fields.report);
}

/** @param {import("./said-store.js").Said} entry */
async function send(entry) {
  let answer;
  let told;
  try {
    answer = await fetch(entry.address, {
      method: "POST",
      body: bodyOf(entry),
      headers: { accept: "application/json" },
      redirect: "manual",
      cache: "no-store",
      signal: AbortSignal.timeout(PATIENCE_MS[entry.kind]),
    });
    told = await answer.json().catch(() => undefined);
  } catch {
    return { outcome: "later" };
  }
  const sentence = typeof told?.sentence === "string" ? told.sentence : "";
  // A network that asks for a password first answers everything with a page of its own: only the key is proof.
  if (answer.ok) return { outcome: told?.key === entry.key ? "taken" : "later" };
  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) return { outcome: "closed", sentence };
  if (answer.status === 500) return { outcome: "failed", sentence };
  if (answer.status > 500 || LATER.has(answer.status)) return { outcome: "later" };
  return { outcome: "refused", sentence };
}

/** With the time on this phone's clock: how long ago something was said is known even where that clock is wrong. */
function bodyOf({ fields, photo }) {
  const sent = { ...fields, sentAt: new Date().toISOString() };
  if (photo === null) return new URLSearchParams(sent);
  const form = new FormData();
  for (const [name, value] of Object.entries(sent)) form.append(name, value);
  form.append("photo", photo, "photo.jpg");
  return form;
}
