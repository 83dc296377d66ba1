/*
 * Where the service worker has shown a kept page, asks for the page itself until it comes, and takes the line about the
 * copy away with it. On a copy that was made on an earlier day, "today" is another one by now.
 */
import { isBusy, showPage } from "./renew.js";

const ASK_EVERY_MS = 10_000;

/**
 * Whoever has asked for a page again keeps her place on it, which is below the line that has come on top: but that the page
 * is an old one matters more than her place.
 */
function bringIntoView(notice) {
  if (performance.getEntriesByType("navigation")[0]?.type !== "reload") return;
  window.addEventListener("load", () => requestAnimationFrame(() => notice.scrollIntoView()));
}

/** @param {HTMLElement} box the element of views/partials/offline.ejs */
export function followKeptPage(box) {
  const notice = box.querySelector(".kept-notice");
  const isKept = () => !notice.hidden;
  const hasNoCopy = document.querySelector("main .not-kept") !== null;
  if (!isKept() && !hasNoCopy) return;
  if (isKept() && isLaterThan(box.dataset.today)) nameDays();
  if (isKept()) bringIntoView(notice);
  const asking = setInterval(ask, ASK_EVERY_MS);
  window.addEventListener("online", ask);

  async function ask() {
    if (document.hidden || isBusy()) return;
    try {
      const request = { cache: "no-store", redirect: "manual", headers: { "x-page-renewal": "1" } };
      const answer = await fetch(location.href, request);
      // It may be a page of another kind, with styles and scripts of its own, or none.
      if (hasNoCopy && answer.status < 500) return location.reload();
      if (!answer.ok) return;
      const html = await answer.text();
      if (isBusy() || !isKept()) return;
      showPage(html);
    } catch {
      return;
    }
    notice.hidden = true;
    box.classList.remove("is-copy");
    clearInterval(asking);
    window.removeEventListener("online", ask);
    document.dispatchEvent(new CustomEvent("page-renewed"));
  }
}

/** By the phone's own clock and zone. */
function isLaterThan(date) {
  const now = new Date();
  const parts = [now.getFullYear(), now.getMonth() + 1, now.getDate()];
  return parts.map((part) => String(part).padStart(2, "0")).join("-") > date;
}

/** Links that speak of today and tomorrow name their days, and a report is about the day of the sheet. */
function nameDays() {
  for (const link of document.querySelectorAll("[data-later]")) {
    link.textContent = link.dataset.later;
    link.href = link.dataset.laterHref ?? link.href;
  }
}
