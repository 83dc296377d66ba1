/**
 * A crew's phone in the browser tests: what it keeps for working without signal, seen from a page that is open on it.
 */
import type { Page } from "playwright-core";

export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true } as const;

/** What the phone of a crew whose own language is English keeps of two days: addresses. */
export function keptOf(crew: string, days: readonly string[]): readonly string[] {
  const pages = [...days, ...days.map((day) => `${day}/report`), "photos"].map(
    (page) => `/crew/${crew}/${page}`,
  );
  return pages.flatMap((path) => [path, `${path}?lang=es`]);
}

/** Addresses of the pages that the phone keeps. */
export function listKeptPages(page: Page): Promise<readonly string[]> {
  return page.evaluate(async () => {
    const names = (await caches.keys()).filter((name) => name.startsWith("daylap-pages"));
    const stores = await Promise.all(names.map((name) => caches.open(name)));
    const requests = await Promise.all(stores.map((store) => store.keys()));
    return requests.flat().map(({ url }) => new URL(url).pathname + new URL(url).search);
  });
}

/** Waits until the worker stands in front of the page and keeps exactly these pages. */
export async function waitUntilKept(page: Page, paths: readonly string[]): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready);
  const wanted = JSON.stringify(paths.toSorted());
  for (let tries = 0; ; tries += 1) {
    const kept = await listKeptPages(page);
    if (JSON.stringify(kept.toSorted()) === wanted) return;
    if (tries === 300) throw new Error(`the phone keeps ${kept.join(", ")} and not ${paths.join(", ")}`);
    await page.waitForTimeout(100);
  }
}
