/*
 * The service worker of crews' pages and links. Its scopes are /crew/ and /link/, so that it never stands in front of a
 * page of the office. A page comes from the network as long as that answers in time, otherwise as the phone has kept it, which says so. It answers
 * nothing but GET; what is said on a form goes through the queue (said-store.js), which it sends where the browser wakes
 * it for that.
 */
import { addNotice, findKept, findOnlyCrew, forgetCrew, keepPages, makeNotKept, takeAnswer } from "./kept-pages.js";
import { answerFile, dropOldFiles, isFile, preferKeptFiles } from "./kept-files.js";
import { sendWaiting } from "./said-sender.js";

/** One bar of signal: whoever waits longer than this reads what is kept. */
const PATIENCE_MS = 4000;
/** A sheet, or the page for reports; neither the stream nor the print nor a photo. */
const PAGE = /^\/crew\/[^/]+(\/\d{4}-\d\d-\d\d(\/report)?)?\/?$/;

/** What the office has sent to the crew lead, and what is opened every morning. */
const LINK = /^\/link\/[^/]+\/?$/;

// A new version takes over at once: pages ask the network first, so that no page mixes two versions for long.
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  event.waitUntil(Promise.all([dropOldFiles(), self.clients.claim()]));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (isFile(address)) event.respondWith(answerFile(event));
  else if (request.mode !== "navigate") return;
  else if (PAGE.test(address.pathname)) event.respondWith(answerPage(event, address));
  else if (LINK.test(address.pathname)) event.respondWith(answerLink(request));
});

self.addEventListener("message", (event) => {
  if (event.data.keep) event.waitUntil(keepPages(event.data.keep));
  if (event.data.forget) event.waitUntil(Promise.all(event.data.forget.map(forgetCrew)));
});

self.addEventListener("sync", (event) => event.waitUntil(sendInBackground()));

async function sendInBackground() {
  const { again, closed } = await sendWaiting();
  await Promise.all(closed.map((crew) => forgetCrew(`/crew/${encodeURIComponent(crew)}/`)));
  // The browser asks again later, with pauses of its own.
  if (again) throw new Error("There is still something to send.");
}

/** @param {FetchEvent} event @param {URL} address @returns {Promise<Response>} */
async function answerPage(event, address) {
  const asked = askWhole(event.request);
  event.waitUntil(asked.then(({ copy }) => takeAnswer(address, copy), () => undefined));
  const soon = await Promise.race([asked.catch(() => undefined), pause(PATIENCE_MS)]);
  if (soon !== undefined && soon.answer.status < 500) return soon.answer;
  const kept = await findKept(address);
  if (kept !== undefined) {
    preferKeptFiles();
    return addNotice(kept);
  }
  try {
    return (await asked).answer;
  } catch {
    return (await makeNotKept(address)) ?? Response.error();
  }
}

/** Without signal a link leads where it would lead, where the phone keeps the pages of one crew and no other. */
async function answerLink(request) {
  const asked = fetch(request);
  const soon = await Promise.race([asked.catch(() => undefined), pause(PATIENCE_MS)]);
  if (soon !== undefined && soon.status < 500) return soon;
  const crew = await findOnlyCrew();
  return crew === undefined ? asked : Response.redirect(crew.slice(0, -1));
}

/** To its last byte: a page that is cut off halfway is no answer. */
async function askWhole(request) {
  const answer = await fetch(request);
  const copy = answer.clone();
  await answer.clone().blob();
  return { answer, copy };
}

function pause(ms) {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
