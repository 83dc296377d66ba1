/*
 * Styles, scripts, icon and type of the pages that are kept. What stands under a file's address never changes (the
 * address has a stamp of all files), so that what is kept need not be asked for again, and no version is mixed with another.
 */
export const FILE_STORE = "daylap-files-2";
const FILES = "/static/";

/** @param {URL} address */
export function isFile({ pathname }) {
  return pathname.startsWith(FILES);
}

/** @param {Request} request @returns {Promise<Response>} */
export async function answerFile(request) {
  return (await caches.match(request, { cacheName: FILE_STORE })) ?? fetch(request);
}

/** Keeps what a page loads, and what that loads in turn. @param {string} html */
export async function keepFilesOf(html) {
  const store = await caches.open(FILE_STORE);
  const wanted = new Set(listNamed(html, "/"));
  for (const file of wanted) {
    const kept = (await store.match(file)) ?? (await keepFile(store, file));
    if (/\.(css|js)$/.test(file)) for (const named of listNamed(await kept.text(), file)) wanted.add(named);
  }
}

async function keepFile(store, file) {
  const answer = await fetch(file);
  // A server of another version answers with its own, which is not what the page has asked for.
  if (answer.ok && answer.headers.get("cache-control")?.includes("immutable")) await store.put(file, answer.clone());
  return answer;
}

/** Throws away the files of versions of which no page is kept any more. @param {readonly string[]} pages as HTML */
export async function dropOtherFiles(pages) {
  const stamps = new Set(pages.flatMap((html) => listNamed(html, "/").map(stampOf)));
  const store = await caches.open(FILE_STORE);
  for (const request of await store.keys()) {
    const { pathname } = new URL(request.url);
    if (!stamps.has(stampOf(pathname)) && stampOf(pathname) !== FONTS) await store.delete(request);
  }
}

/** They have no stamp: their names change with what is in them. */
const FONTS = "fonts";

function stampOf(path) {
  return path.slice(FILES.length).split("/")[0];
}

/** What a page links, a style sheet names as type, and a script imports, at once or when it is needed. */
function listNamed(text, from) {
  const named = text.matchAll(/(?:href|src)="(\/static\/[^"]+)"|url\("(\/static\/[^"]+)"\)|(?:from |import |import\()"(\.[^"]+)"/g);
  const base = new URL(from, self.location.origin);
  return [...named].map(([, linked, type, imported]) => new URL(linked ?? type ?? imported, base).pathname);
}
