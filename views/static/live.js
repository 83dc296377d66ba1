/*
 * Keeps an open page true: it listens for changes and shows the page as it is then, but never under somebody who is in
 * the middle of a form. It says when it has lost touch, and when it is back. Without script a page is as true as when it
 * was loaded.
 */
import { isBusy, showCounts, showPage } from "./renew.js";

/** The server says every 15 seconds that it is there; after this long without a word it is not. */
const SILENCE_MS = 40_000;
const LOOK_EVERY_MS = 5_000;
/** A stream that ends may be there again at once. */
const PATIENCE_MS = 3_000;
/** Many phones hear of a change at the same moment: they ask for their pages one after another. */
const SPREAD_MS = 400;
const NEWS_LASTS_MS = 12_000;
const ASK_AGAIN_MS = 700;
const MOST_ASKED_AGAIN = 5;
/** What is worked out behind a page takes moments. */
const REST_MS = 2000;

const WORDS = {
  en: {
    lost: (time) => `No connection since ${time}. What you see may be old.`,
    back: "The connection is back.",
    changed: (who, time) => `${who === "" ? "Changed" : `Changed by ${who}`} at ${time}.`,
    waiting: (who, isOne) =>
      `${who === "" ? "Somebody" : who} ${isOne ? "has" : "have"} changed the plan since you opened this page.`,
    and: " and ",
    better: "There is a better plan now.",
    show: "Show it as it is now",
    closed: "This page is not open to you any more.",
    again: "Open it again",
  },
  es: {
    lost: (time) => `Sin conexión desde las ${time}. Lo que ve puede ser antiguo.`,
    back: "La conexión ha vuelto.",
    changed: (who, time) => `Cambiado${who === "" ? "" : ` por ${who}`} a las ${time}.`,
    waiting: (who, isOne) =>
      `${who === "" ? "Alguien" : who} ${isOne ? "ha" : "han"} cambiado el plan desde que abrió esta página.`,
    and: " y ",
    better: "Ahora hay un plan mejor.",
    show: "Mostrarlo como está ahora",
    closed: "Esta página ya no está abierta para usted.",
    again: "Abrirla de nuevo",
  },
};
const words = WORDS[document.documentElement.lang] ?? WORDS.en;

const main = document.querySelector("main");
const box = document.createElement("div");
box.className = "live";
box.setAttribute("aria-live", "polite");
box.hidden = true;
document.body.append(box);

let source;
let heardAt = Date.now();
let lostAt;
let isTold = false;
let isClosed = false;
/** What the server said last, and what has not been shown of it yet. */
let latest;
/** Who has changed something that this page does not show. */
let unseen = new Set();
let renewal;
/** How often the page that came was not yet what the stream had told of. */
let behind = 0;

function connect() {
  if (source !== undefined || isClosed || document.hidden) return;
  source = new EventSource(main.dataset.live);
  source.addEventListener("now", (event) => {
    hear();
    latest = JSON.parse(event.data);
    if (latest.company !== main.dataset.company && latest.by) unseen.add(latest.by);
    renewSoon();
  });
  source.addEventListener("alive", hear);
  source.addEventListener("error", () => {
    lostAt ??= Date.now();
    setTimeout(look, PATIENCE_MS);
    // Where the browser gives up by itself, the answer was no stream: is this page still open to its reader?
    if (source?.readyState === EventSource.CLOSED) {
      disconnect();
      askWhetherOpen().catch(() => undefined);
    }
  });
}

function disconnect() {
  source?.close();
  source = undefined;
}

function hear() {
  heardAt = Date.now();
  lostAt = undefined;
  if (!isTold) return;
  isTold = false;
  say(words.back, { lastsMs: NEWS_LASTS_MS });
}

/** Whether the server is still there, seen from here. */
function look() {
  if (document.hidden || isClosed) return;
  if (lostAt === undefined && Date.now() - heardAt > SILENCE_MS) {
    lostAt = heardAt;
    disconnect();
  }
  if (lostAt === undefined) return;
  if (!isTold && Date.now() - lostAt >= PATIENCE_MS) {
    isTold = true;
    say(words.lost(clockOf(lostAt)), { isUrgent: true });
  }
  connect();
}

async function askWhetherOpen() {
  const answer = await fetchPage();
  if (answer.type !== "opaqueredirect" && answer.status !== 401 && answer.status !== 403) return;
  isClosed = true;
  say(words.closed, { link: words.again, isUrgent: true });
  document.dispatchEvent(new CustomEvent("page-closed"));
}

function fetchPage() {
  return fetch(location.href, { cache: "no-store", redirect: "manual", headers: { "x-page-renewal": "1" } });
}

function renewSoon() {
  renewal ??= setTimeout(() => {
    renewal = undefined;
    renew().catch(() => undefined);
  }, Math.random() * SPREAD_MS);
}

/** Shows what the server has, if this page does not show it and nobody is in the middle of something. */
async function renew() {
  if (latest === undefined || isClosed) return;
  const isNews = latest.company !== main.dataset.company;
  const isBetter = !isNews && latest.plan !== main.dataset.plan;
  const isMarked = latest.reports !== undefined && latest.reports !== main.dataset.reports;
  const isOther = isNews || isBetter || isMarked;
  if (!isOther && !isIncomplete()) return;
  if (!isNews && document.querySelector(".board-scroll, .nobody") !== null) {
    // Nobody reads a board that moves: a better plan of the same work waits until it is asked for.
    if (isBetter && document.querySelector(".planning") === null) say(words.better, { link: words.show });
    if (isMarked) {
      const page = await fetchPage();
      if (page.ok) showCounts(await page.text());
    }
    return;
  }
  if (isBusy()) return isNews || isBetter ? wait() : lookForRest();
  const asked = latest;
  const answer = await fetchPage();
  if (!answer.ok) return wait();
  const html = await answer.text();
  if (isBusy()) return wait();
  const differs = showPage(html);
  const who = [...unseen].join(words.and);
  unseen = new Set();
  followPlanning().catch(() => undefined);
  document.dispatchEvent(new CustomEvent("page-renewed"));
  if (differs && !isTold && isOther) say(words.changed(who, clockOf(Date.now())), { lastsMs: NEWS_LASTS_MS });
  // What was heard meanwhile may be newer than the page that came; and another process may hear of a change a bit later.
  if (latest !== asked) renewSoon();
  else if (main.dataset.company === latest.company) behind = 0;
  else if (behind++ < MOST_ASKED_AGAIN) setTimeout(renewSoon, ASK_AGAIN_MS);
  lookForRest();
}

/** Whether something on the page was still being worked out. */
const isIncomplete = () => document.querySelector("main [data-to-come]") !== null;

function lookForRest() {
  if (isIncomplete()) setTimeout(renewSoon, REST_MS);
}

/** A crew's page has no line about the search, and does without its script. */
async function followPlanning() {
  if (document.querySelector(".planning") === null) return;
  const planning = await import("./planning.js");
  planning.followPlanning();
}

function wait() {
  if (!isTold) say(words.waiting([...unseen].join(words.and), unseen.size < 2), { link: words.show });
}

let sayNothing;
function say(sentence, { link, lastsMs, isUrgent = false }) {
  clearTimeout(sayNothing);
  const parts = [Object.assign(document.createElement("span"), { textContent: sentence })];
  if (link !== undefined) parts.push(Object.assign(document.createElement("a"), { href: location.href, textContent: link }));
  box.replaceChildren(...parts);
  box.classList.toggle("attention", isUrgent);
  box.hidden = false;
  if (lastsMs !== undefined) sayNothing = setTimeout(() => (box.hidden = true), lastsMs);
}

function clockOf(time) {
  const [locale, options] = [document.documentElement.lang === "es" ? "es-US" : "en-US", { hour: "numeric", minute: "2-digit" }];
  return new Date(time).toLocaleTimeString(locale, options).toLowerCase().replaceAll("\u202f", " ");
}

// A link to where one is already would only move to its anchor.
box.addEventListener("click", (event) => {
  if (!event.target.matches("a")) return;
  event.preventDefault();
  location.reload();
});
document.addEventListener("focusout", () => setTimeout(renewSoon, 0));
document.addEventListener("page-free", renewSoon);
// Browsers open few connections to one server: pages that nobody sees leave theirs to the others.
document.addEventListener("visibilitychange", () => {
  if (document.hidden) disconnect();
  else {
    heardAt = Date.now();
    connect();
  }
});
window.addEventListener("pagehide", disconnect);
window.addEventListener("pageshow", connect);
window.addEventListener("offline", () => {
  lostAt ??= Date.now();
  disconnect();
  setTimeout(look, PATIENCE_MS);
});
window.addEventListener("online", look);
setInterval(look, LOOK_EVERY_MS);
lookForRest();
followPlanning().catch(() => undefined);
connect();
