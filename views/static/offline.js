/*
 * What makes a crew's page work without signal: has the pages kept, shows what waits, and sends it whenever that may help;
 * a page with forms has report-form.js on top of it. Loaded as a module, so that nothing waits for it; without it the page
 * works as plain pages do.
 */
import { followKeptPage } from "./kept-notice.js";
import { makeSaidList } from "./said-list.js";
import { news } from "./said-store.js";
import { sendWaiting } from "./said-sender.js";

const SHORTEST_PAUSE_MS = 2000;
const TOLD_MS = 12_000;
const LONGEST_PAUSE_MS = 60_000;
/** Many phones open their pages at the same minute of the morning. One that keeps nothing yet does not wait. */
const SPREAD_MS = 4000;
const SETTLES_MS = 4000;

/** The element of views/partials/offline.ejs. */
export const box = document.querySelector(".offline");
/** Of src/board/offline-words.ts. */
export const words = JSON.parse(box.dataset.words);
const { scope } = box.dataset;
/** Undefined where the browser has no service workers, or the page did not come over TLS. */
const workers = navigator.serviceWorker;
const isFirstVisit = !workers?.controller;

let pause = SHORTEST_PAUSE_MS;
let waking;
let keeping;
let isSending = false;
let isMore = false;

/** Now, and again until there is nothing left that may be taken. */
async function send() {
  if (isSending) {
    isMore = true;
    return;
  }
  isSending = true;
  clearTimeout(waking);
  let again = true;
  try {
    do {
      isMore = false;
      const sent = await sendWaiting();
      ({ again } = sent);
      forget(sent.closed);
    } while (isMore);
  } catch {
    // The browser's database is away for a moment.
  } finally {
    isSending = false;
  }
  if (!again) {
    pause = SHORTEST_PAUSE_MS;
    return;
  }
  askToBeWoken().catch(() => undefined);
  waking = setTimeout(send, pause);
  pause = Math.min(LONGEST_PAUSE_MS, pause * 2);
}

/** Something has changed that may help: no long pause any more. */
function sendNow() {
  pause = SHORTEST_PAUSE_MS;
  send();
}

/** There is something more to send; also where this page is closed before it has tried. */
export function sendKept() {
  askToBeWoken().catch(() => undefined);
  sendNow();
}

/** So that what waits is sent also when this page is closed, where the browser can do that. */
async function askToBeWoken() {
  const registration = await workers?.ready;
  await registration?.sync?.register("said");
}

/** Where the link opens nothing any more, this phone shows nothing any more either, but for what it has not got rid of. */
function forget(crews) {
  if (crews.length > 0) tellWorker({ forget: crews.map((crew) => `${scope}${encodeURIComponent(crew)}/`) });
  if (!crews.includes(box.dataset.crew)) return;
  document.querySelector("main").replaceChildren();
  box.querySelector(".kept-notice").hidden = true;
}

async function tellWorker(message) {
  const registration = await workers?.ready;
  registration?.active?.postMessage(message);
}

/** As of what this page shows. A plan that has just changed may change again: the search for a better one goes on. */
function keepPages(wait) {
  const { company, plan } = document.querySelector("main").dataset;
  if (company === undefined) return;
  const keep = { addresses: JSON.parse(box.dataset.keep), stamp: `${company}.${plan}.${box.dataset.today}` };
  clearTimeout(keeping);
  keeping = setTimeout(() => tellWorker({ keep }), wait);
}

const told = Object.assign(document.createElement("div"), { className: "told", hidden: true });
told.setAttribute("role", "status");
document.body.append(told);
let untelling;

/** Says it where the thumb is, whatever part of the page is in sight; for some seconds, before all else that is said there. */
export function tell(sentence) {
  clearTimeout(untelling);
  told.textContent = sentence;
  told.hidden = false;
  untelling = setTimeout(() => (told.hidden = true), TOLD_MS);
}

const show = makeSaidList(box, words, { send: sendNow, tell });
news.addEventListener("message", show);
window.addEventListener("online", sendNow);
document.addEventListener("page-closed", () => forget([box.dataset.crew]));
window.addEventListener("pageshow", sendNow);
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) sendNow();
});
// What the worker imports never changes under its address.
const options = { type: "module", updateViaCache: "imports" };
const keepSoon = () => keepPages(isFirstVisit ? 0 : Math.random() * SPREAD_MS);
workers?.register(box.dataset.worker, { ...options, scope }).then(keepSoon, () => undefined);
workers?.register(box.dataset.worker, { ...options, scope: box.dataset.links }).catch(() => undefined);
// What a worker of an earlier version has kept, the one that takes over may not read.
workers?.addEventListener("controllerchange", keepSoon);
document.addEventListener("page-renewed", () => keepPages(SETTLES_MS + Math.random() * SPREAD_MS));
followKeptPage(box);
show();
