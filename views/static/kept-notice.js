/*
 * Where the service worker has shown a kept page, asks for the page itself until it comes, and takes the line about the
 * copy away with it.
 */
import { isBusy, showPage } from "./renew.js";

const ASK_EVERY_MS = 10_000;

/** @param {HTMLElement} notice hidden where the page came from the network */
export function followKeptPage(notice) {
  if (notice.hidden) return;
  const asking = setInterval(ask, ASK_EVERY_MS);
  window.addEventListener("online", ask);

  async function ask() {
    if (document.hidden || isBusy()) return;
    try {
      const request = { cache: "no-store", redirect: "manual", headers: { "x-page-renewal": "1" } };
      const answer = await fetch(location.href, request);
      if (!answer.ok) return;
      const html = await answer.text();
      if (isBusy() || notice.hidden) return;
      showPage(html);
    } catch {
      return;
    }
    notice.hidden = true;
    clearInterval(asking);
    window.removeEventListener("online", ask);
    document.dispatchEvent(new CustomEvent("page-renewed"));
  }
}
