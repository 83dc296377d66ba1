/*
 * The pages that a phone keeps for where there is no signal: of each crew whose link it has opened, the sheet and the
 * page for reports of today and tomorrow and the page for photos, in both languages. What may be kept, and under which
 * address, the server says with the page (X-Kept-As); nothing else is ever kept, and no error.
 */
import { dropOtherFiles, keepFilesOf } from "./kept-files.js";

export const PAGE_STORE = "daylap-pages-2";
/** When the copy was taken, milliseconds since 1970; only on what is kept. */
const KEPT_AT = "x-kept-at";
const KEPT_AS = "x-kept-as";
/** What the page showed when it was taken: of another state of the plan there is another stamp. */
const STAMP = "x-kept-stamp";
/** From this hour on crews look at tomorrow, as on the server. */
const TOMORROW_FROM_HOUR = 15;
const SHEET = /\/\d{4}-\d\d-\d\d$/;

let keeping = Promise.resolve();

/**
 * Brings what is kept of a crew up to what the open page shows, and throws away the days that are over. What is asked
 * twice at once is asked for once.
 * @param {{ addresses: readonly string[], stamp: string }} wanted those that matter most first
 */
export function keepPages(wanted) {
  keeping = keeping.catch(() => undefined).then(() => keepNow(wanted));
  return keeping;
}

async function keepNow({ addresses, stamp }) {
  const store = await openPages();
  for (const address of addresses) {
    const kept = await store.match(address);
    if (kept?.headers.get(STAMP) === stamp) continue;
    const answer = await fetch(address, { redirect: "manual", cache: "no-store", headers: { "x-page-renewal": "1" } });
    await takeAnswer(new URL(address, self.location.origin), answer);
  }
  for (const { pathname, search } of await listKept(crewPathOf(addresses[0]))) {
    if (!addresses.includes(pathname + search)) await store.delete(pathname + search);
  }
  const all = await store.matchAll();
  await dropOtherFiles(await Promise.all(all.map((kept) => kept.text())));
}

/**
 * Keeps a page that the network has answered with, where it may be kept; where the link is void, forgets all of the crew.
 * @param {URL} address as it was asked for
 * @param {Response} answer
 */
export async function takeAnswer({ pathname }, answer) {
  const crewPath = crewPathOf(pathname);
  // Whoever is led on to the sign-in has no link (any more) either.
  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) {
    await forgetCrew(crewPath);
    return;
  }
  const keptAs = answer.headers.get(KEPT_AS) ?? "";
  if (answer.status !== 200 || !keptAs.startsWith(crewPath)) return;
  const html = await answer.text();
  const headers = new Headers(answer.headers);
  // It is unpacked by now.
  headers.delete("content-encoding");
  headers.set(KEPT_AT, String(Date.now()));
  await (await openPages()).put(keptAs, new Response(html, { headers }));
  await keepFilesOf(html);
}

/** @param {string} crewPath "/crew/alder/" */
export async function forgetCrew(crewPath) {
  const store = await openPages();
  for (const address of await listKept(crewPath)) await store.delete(address);
}

/** The kept copy of a page in the language asked for; for an address without a date, of the day that matters now. @param {URL} address */
export async function findKept(address) {
  const language = languageOf(address);
  const path = address.pathname.replace(/\/$/, "");
  const exact = await findIn(path, language);
  if (exact !== undefined || path !== crewPathOf(path).slice(0, -1)) return exact;
  const now = new Date();
  const [today, tomorrow] = [0, 1].map((ahead) => `${path}/${dateAfter(now, ahead)}`);
  const best = now.getHours() < TOMORROW_FROM_HOUR ? [today, tomorrow] : [tomorrow, today];
  const sheets = (await listKept(`${path}/`)).map(({ pathname }) => pathname).filter((kept) => SHEET.test(kept));
  for (const candidate of [...best, ...sheets.toSorted().toReversed()]) {
    const kept = await findIn(candidate, language);
    if (kept !== undefined) return kept;
  }
  return undefined;
}

/** Without a language in its address a page speaks its crew's own; which that is, the page says. */
async function findIn(path, language) {
  const store = await openPages();
  const own = await store.match(path);
  if (language === null || own?.headers.get("content-language") === language) return own;
  return store.match(`${path}?lang=${language}`);
}

/** "/crew/alder/", where that is the only crew of which something is kept. */
export async function findOnlyCrew() {
  const crews = new Set((await listKept("/crew/")).map(({ pathname }) => crewPathOf(pathname)));
  return crews.size === 1 ? [...crews][0] : undefined;
}

/** The kept copy as it is shown: with its line that says when it was kept. @param {Response} kept */
export async function addNotice(kept) {
  const html = await kept.text();
  const keptAt = new Date(Number(kept.headers.get(KEPT_AT)));
  const locale = kept.headers.get("content-language") === "es" ? "es-US" : "en-US";
  const day = keptAt.toDateString() === new Date().toDateString() ? {} : { weekday: "short", day: "numeric", month: "short" };
  const written = keptAt.toLocaleString(locale, { ...day, hour: "numeric", minute: "2-digit" });
  const time = written.replaceAll("\u202f", " ").replace(/[AP]M/, (half) => half.toLowerCase());
  const shown = html
    .replace('<aside class="offline"', '<aside class="offline is-copy"')
    .replace(' class="kept-notice" hidden', ' class="kept-notice"')
    .replace("<time></time>", `<time>${time}</time>`);
  return new Response(shown, { headers: kept.headers });
}

/**
 * For a page of which there is no copy: says so, and leads to the sheets that are kept, of its crew before others, in its
 * language before the other.
 * @param {URL} address
 */
export async function makeNotKept(address) {
  const language = languageOf(address);
  const ofCrew = await listKept(crewPathOf(address.pathname));
  const any = (ofCrew.length > 0 ? ofCrew : await listKept("/crew/")).filter(({ pathname }) => SHEET.test(pathname));
  const inOrder = any.toSorted((one, other) => rankOf(one, language) - rankOf(other, language));
  const kept = inOrder.length === 0 ? undefined : await (await openPages()).match(inOrder[0]);
  const html = (await kept?.text()) ?? "";
  const [, said, heading] = /<template class="not-kept">(<h1>([^<]*)[\s\S]*?)<\/template>/.exec(html) ?? [];
  if (kept === undefined || said === undefined) return makeNothingKept();
  const isOther = language !== null && kept.headers.get("content-language") !== language;
  const inOther = isOther ? `<p lang="${language}">${NOT_IN_THIS_LANGUAGE[language]}</p>` : "";
  const shown = html
    // It is no page of the plan, which could change while it stays open.
    .replace(/<script src="[^"]*\/live\.js"[^>]*><\/script>/, "")
    .replace(/(<main[^>]*>)[\s\S]*(<\/main>)/, `$1<div class="not-kept">${said}${inOther}</div>$2`)
    .replace(/<title>[^<]*/, `<title>${heading}`);
  return new Response(shown, { status: 503, headers: kept.headers });
}

const NOT_IN_THIS_LANGUAGE = {
  en: "This page in English needs signal.",
  es: "Esta página en español necesita señal.",
};

function rankOf({ searchParams }, language) {
  return searchParams.get("lang") === language ? 0 : 1;
}

/** Where nothing is kept at all, nothing tells the reader's language either. */
function makeNothingKept() {
  const html = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>No signal · Sin señal</title><main style="font: 1.3rem/1.45 sans-serif; max-width: 30rem; margin: 1rem auto">
<h1>No signal · <span lang="es">Sin señal</span></h1>
<p>This phone keeps nothing of this page. Open it again where there is signal.</p>
<p lang="es">Este teléfono no guarda nada de esta página. Ábrala otra vez donde haya señal.</p>
<p><a href="" style="display: inline-block; padding: 0.6rem 0">Try again · <span lang="es">Intentar otra vez</span></a></p></main></html>`;
  return new Response(html, { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
}

function openPages() {
  return caches.open(PAGE_STORE);
}

/** Addresses of what is kept of a crew. @param {string} crewPath @returns {Promise<readonly URL[]>} */
async function listKept(crewPath) {
  const addresses = (await (await openPages()).keys()).map(({ url }) => new URL(url));
  return addresses.filter(({ pathname }) => pathname.startsWith(crewPath));
}

/** "/crew/alder/" of any address of that crew. @param {string} path */
function crewPathOf(path) {
  return `${path.split(/[/?]/).slice(0, 3).join("/")}/`;
}

/** Null where the address asks for none. @param {URL} address */
function languageOf({ searchParams }) {
  const asked = searchParams.get("lang");
  return asked === "en" || asked === "es" ? asked : null;
}

/** By the phone's own calendar. */
function dateAfter(moment, days) {
  const day = new Date(moment.getFullYear(), moment.getMonth(), moment.getDate() + days);
  const two = (number) => String(number).padStart(2, "0");
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
