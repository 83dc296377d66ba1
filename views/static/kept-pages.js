/*
 * The pages that a phone keeps for where there is no signal: of each crew whose link it has opened, the sheet and the
 * page for reports of today and tomorrow, in the language last used. What may be kept, and under which address, the
 * server says with the page (X-Kept-As); nothing else is ever kept, and no error.
 */
import { keepFilesOf } from "./kept-files.js";

const STORE = "daylap-pages-1";
/** When the copy was taken, milliseconds since 1970; only on what is kept. */
const KEPT_AT = "x-kept-at";
const KEPT_AS = "x-kept-as";
/** What the page showed when it was taken: of another state of the plan there is another stamp. */
const STAMP = "x-kept-stamp";
/** From this hour on crews look at tomorrow, as on the server. */
const TOMORROW_FROM_HOUR = 15;

/**
 * Brings what is kept of a crew up to what the open page shows, and throws away the days that are over.
 * @param {{ addresses: readonly string[], stamp: string }} wanted in one language
 */
export async function keepPages({ addresses, stamp }) {
  const store = await caches.open(STORE);
  const wanted = addresses.map((address) => new URL(address, self.location.origin));
  for (const address of wanted) {
    const kept = await store.match(address.pathname);
    if (kept?.headers.get(STAMP) === `${stamp} ${address.search}`) continue;
    const answer = await fetch(address, { redirect: "manual", cache: "no-store", headers: { "x-page-renewal": "1" } });
    await takeAnswer(address, answer);
  }
  const names = wanted.map(({ pathname }) => pathname);
  for (const { pathname } of await listKept(crewPathOf(wanted[0]))) {
    if (!names.includes(pathname)) await store.delete(pathname);
  }
}

/**
 * Keeps a page that the network has answered with, where it may be kept; where the link is void, forgets all of the crew.
 * @param {URL} address as it was asked for
 * @param {Response} answer
 */
export async function takeAnswer(address, answer) {
  // Whoever is led on to the sign-in has no link (any more) either.
  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) {
    await forgetCrew(crewPathOf(address));
    return;
  }
  const keptAs = answer.headers.get(KEPT_AS) ?? "";
  if (answer.status !== 200 || !keptAs.startsWith(crewPathOf(address))) return;
  const html = await answer.text();
  const headers = new Headers(answer.headers);
  // It is unpacked by now.
  headers.delete("content-encoding");
  headers.set(KEPT_AT, String(Date.now()));
  headers.set(STAMP, `${headers.get(STAMP)} ${address.search}`);
  const store = await caches.open(STORE);
  await store.put(keptAs, new Response(html, { headers }));
  await keepFilesOf(html);
}

/** @param {string} crewPath "/crew/alder/" */
export async function forgetCrew(crewPath) {
  const store = await caches.open(STORE);
  for (const { pathname } of await listKept(crewPath)) await store.delete(pathname);
}

/** The kept copy of a page; for an address without a date, of the day that matters now. @param {URL} address */
export async function findKept(address) {
  const path = address.pathname.replace(/\/$/, "");
  const store = await caches.open(STORE);
  const exact = await store.match(path);
  if (exact !== undefined || path !== crewPathOf(address).slice(0, -1)) return exact;
  const now = new Date();
  const [today, tomorrow] = [0, 1].map((ahead) => `${path}/${dateAfter(now, ahead)}`);
  const best = now.getHours() < TOMORROW_FROM_HOUR ? [today, tomorrow] : [tomorrow, today];
  const newest = (await listKept(`${path}/`)).map(({ pathname }) => pathname).filter((kept) => !kept.endsWith("/report"));
  for (const candidate of [...best, ...newest.toSorted().toReversed()]) {
    const kept = await store.match(candidate);
    if (kept !== undefined) return kept;
  }
  return undefined;
}

/** "/crew/alder/", where that is the only crew of which something is kept. */
export async function findOnlyCrew() {
  const crews = new Set((await listKept("/crew/")).map(crewPathOf));
  return crews.size === 1 ? [...crews][0] : undefined;
}

/** The kept copy as it is shown: with its line that says when it was kept. @param {Response} kept */
export async function addNotice(kept) {
  const html = await kept.text();
  const keptAt = new Date(Number(kept.headers.get(KEPT_AT)));
  const locale = /<html lang="es"/.test(html) ? "es-US" : "en-US";
  const day = keptAt.toDateString() === new Date().toDateString() ? {} : { weekday: "short", day: "numeric", month: "short" };
  const written = keptAt.toLocaleString(locale, { ...day, hour: "numeric", minute: "2-digit" });
  const time = written.replaceAll("\u202f", " ").replace(/[AP]M/, (half) => half.toLowerCase());
  const shown = html.replace(' class="kept-notice" hidden', ' class="kept-notice"').replace("<time></time>", `<time>${time}</time>`);
  return new Response(shown, { headers: kept.headers });
}

/** For a page of a crew that is not kept while others are: says so in their words. @param {URL} address */
export async function makeNotKept(address) {
  const [any] = await listKept(crewPathOf(address));
  if (any === undefined) return undefined;
  const store = await caches.open(STORE);
  const kept = await store.match(any.pathname);
  const html = (await kept?.text()) ?? "";
  const sentence = /<p class="not-kept" hidden>([\s\S]*?)<\/p>/.exec(html)?.[1];
  if (kept === undefined || sentence === undefined) return undefined;
  const shown = html
    .replace(/(<main[^>]*>)[\s\S]*(<\/main>)/, `$1<p class="not-kept">${sentence}</p>$2`)
    .replace(/<title>[^<]*/, `<title>${sentence.split(/[.,]/)[0]}`);
  return new Response(shown, { status: 503, headers: kept.headers });
}

/** Addresses of what is kept of a crew. @param {string} crewPath */
async function listKept(crewPath) {
  const store = await caches.open(STORE);
  const addresses = (await store.keys()).map(({ url }) => new URL(url));
  return addresses.filter(({ pathname }) => pathname.startsWith(crewPath));
}

/** "/crew/alder/" of any address of that crew. @param {URL} address */
function crewPathOf({ pathname }) {
  return `${pathname.split("/").slice(0, 3).join("/")}/`;
}

/** By the phone's own calendar. */
function dateAfter(moment, days) {
  const day = new Date(moment.getFullYear(), moment.getMonth(), moment.getDate() + days);
  const two = (number) => String(number).padStart(2, "0");
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
