/*
 * Styles, scripts, icon and type of the pages that are kept. They come from the network first like the pages, so that a
 * new version is never mixed with an old one while there is signal; type never changes under its name.
 */
const STORE = "daylap-files-1";
const FILES = "/static/";
const FONTS = "/static/fonts/";
const PATIENCE_MS = 3000;
/** After a page was shown as it was kept, its files are not waited for either. */
const SLOW_LASTS_MS = 10_000;
/** What the network has been asked for since the browser woke this worker. */
const fresh = new Set();
let slowUntil = 0;

/** @param {URL} address */
export function isFile({ pathname }) {
  return pathname.startsWith(FILES);
}

/** Tells that a kept page is being shown: what it loads is to be as old as it is, and at once. */
export function preferKeptFiles() {
  slowUntil = Date.now() + SLOW_LASTS_MS;
}

/** @param {FetchEvent} event @returns {Promise<Response>} */
export async function answerFile(event) {
  const { request } = event;
  const kept = () => caches.match(request, { cacheName: STORE });
  const isKeptFirst = new URL(request.url).pathname.startsWith(FONTS) || Date.now() < slowUntil;
  const first = isKeptFirst ? await kept() : undefined;
  if (first !== undefined) return first;
  const asked = fetch(request);
  event.waitUntil(asked.then((answer) => keepFile(new URL(request.url).pathname, answer.clone()), () => undefined));
  const soon = await Promise.race([asked.catch(() => undefined), new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))]);
  if (soon?.status < 500) return soon;
  return (await kept()) ?? asked;
}

/** Keeps what a page loads, and what that loads in turn, as it is now. @param {string} html */
export async function keepFilesOf(html) {
  const store = await caches.open(STORE);
  const wanted = new Set(listNamed(html, "/"));
  for (const file of wanted) {
    const isThere = fresh.has(file) || (file.startsWith(FONTS) && (await store.match(file)) !== undefined);
    if (!isThere) await keepFile(file, await fetch(file));
    const kept = await store.match(file);
    if (/\.(css|js)$/.test(file) && kept !== undefined) for (const named of listNamed(await kept.text(), file)) wanted.add(named);
  }
}

/** Of earlier versions of this store, none is read any more. */
export async function dropOldFiles() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("daylap-files-") && name !== STORE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function keepFile(path, answer) {
  if (answer.status !== 200) return;
  const store = await caches.open(STORE);
  await store.put(path, answer);
  fresh.add(path);
}

/** What a page links, a style sheet names as type, and a script imports. */
function listNamed(text, from) {
  const named = text.matchAll(/(?:href|src)="(\/static\/[^"]+)"|url\("(\/static\/[^"]+)"\)|(?:from|import) "(\.[^"]+)"/g);
  const base = new URL(from, self.location.origin);
  return [...named].map(([, linked, type, imported]) => new URL(linked ?? type ?? imported, base).pathname);
}
