/*
 * The service worker of crews' pages and links. Its scopes are /crew/ and /link/, so that it never stands in front of a
 * page of the office. A page comes from the network as long as that answers in time, otherwise as the phone has kept it, which says so. It answers
 * nothing but GET; what is said on a form goes through the queue (said-store.js), which it sends where the browser wakes
 * it for that.
 */
import { addNotice, findKept, findOnlyCrew, forgetCrew, keepPages, makeNotKept, PAGE_STORE, takeAnswer } from "./kept-pages.js";
import { answerFile, FILE_STORE, isFile } from "./kept-files.js";
import { sendWaiting } from "./said-sender.js";

/** One bar of signal: whoever waits longer than this reads what is kept. */
const PATIENCE_MS = 4000;
const CREWS = "/crew/";

/** What the office has sent to the crew lead, and what is opened every morning. */
const LINK = /^\/link\/[^/]+\/?$/;

// A new version takes over at once: pages ask the network first, so that no page mixes two versions for long.
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  event.waitUntil(Promise.all([dropOldStores(), self.clients.claim()]));
});

/** What an earlier version has kept in another form, nobody reads any more. */
async function dropOldStores() {
  const stores = (await caches.keys()).filter((name) => name.startsWith("daylap-"));
  await Promise.all(stores.filter((name) => name !== PAGE_STORE && name !== FILE_STORE).map((name) => caches.delete(name)));
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (isFile(address)) event.respondWith(answerFile(request));
  else if (request.mode !== "navigate") return;
  else if (address.pathname.startsWith(CREWS)) event.respondWith(answerPage(event, address));
  else if (LINK.test(address.pathname)) event.respondWith(answerLink(request, address));
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
  if (kept !== undefined) return addNotice(kept);
  try {
    return (await asked).answer;
  } catch {
    return makeNotKept(address);
  }
}

/** Without signal a link leads where it would lead, in the language it asks for, where the phone keeps the pages of one crew and no other. */
async function answerLink(request, address) {
  const asked = fetch(request);
  const soon = await Promise.race([asked.catch(() => undefined), pause(PATIENCE_MS)]);
  if (soon !== undefined && soon.status < 500) return soon;
  const crew = await findOnlyCrew();
  if (crew !== undefined) return Response.redirect(crew.slice(0, -1) + address.search);
  return asked.catch(() => makeNotKept(address));
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
