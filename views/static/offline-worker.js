/*
 * The service worker of crews' pages. Its scope is /crew/, so that it never stands in front of a page of the office. A page
 * comes from the network as long as that answers in time, otherwise as the phone has kept it, which says so. It answers
 * nothing but GET; what is said on a form goes through the queue (said-store.js), which it sends where the browser wakes
 * it for that.
 */
import { addNotice, findKept, makeNotKept, forgetCrew, keepPages, takeAnswer } from "./kept-pages.js";
import { answerFile, dropOldFiles, isFile, preferKeptFiles } from "./kept-files.js";
import { sendWaiting } from "./said-sender.js";

/** One bar of signal: whoever waits longer than this reads what is kept. */
const PATIENCE_MS = 4000;
/** A sheet, or the page for reports; neither the stream nor the print nor a photo. */
const PAGE = /^\/crew\/[^/]+(\/\d{4}-\d\d-\d\d(\/report)?)?\/?$/;

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
  else if (request.mode === "navigate" && PAGE.test(address.pathname)) event.respondWith(answerPage(event, address));
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
