/**
 * Random cuts between a crew's phone and the server, while the crew goes on reporting: no signal, answers that get lost, a
 * page that is closed, a phone that is switched off, a server that dies. What comes of it is for the caller to read where
 * the server keeps it.
 */
import { setTimeout as sleep } from "node:timers/promises";
import type { Page } from "playwright-core";
import { expect } from "vitest";
import type { Random } from "../../src/planner/core/random.js";
import type { CutNetwork } from "./cut-network.js";
import type { PhoneBrowser } from "./phone-browser.js";

export const CUTS = [
  "no signal",
  "answers lost",
  "page closed",
  "phone switched off",
  "server killed",
] as const;
export type Cut = (typeof CUTS)[number];

/** Nobody waits for pictures and type before she says something. */
const SOON = { waitUntil: "domcontentloaded" } as const;

export interface CutRounds {
  readonly network: CutNetwork;
  /** Switches the phone on again, on the same profile, with no page of the app open yet. */
  readonly switchOn: () => Promise<PhoneBrowser>;
  /** The page on which is reported. */
  readonly address: string;
  /** Says one thing, by its number, and returns once the phone has kept it. */
  readonly say: (page: Page, number: number) => Promise<void>;
  /** Ends the server as a power cut does, and starts it again on the same database. */
  readonly killServer: () => Promise<void>;
}

/** How much waits in the phone's own database (views/static/said-store.js); runs in the page. */
function countKept(): Promise<number> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open("daylap-said");
    opening.addEventListener("error", () => reject(new Error("the phone's database cannot be opened")));
    opening.addEventListener("success", () => {
      const counting = opening.result.transaction("said").objectStore("said").count();
      counting.addEventListener("success", () => resolve(counting.result));
      opening.result.close();
    });
  });
}

/** Returns how often each cut was made, and how many things were said: the numbers from 1 on. */
export async function runCutRounds(
  { network, switchOn, address, say, killServer }: CutRounds,
  rounds: number,
  random: Random,
): Promise<{ readonly made: Readonly<Record<Cut, number>>; readonly said: number }> {
  const made: Record<Cut, number> = {
    "no signal": 0,
    "answers lost": 0,
    "page closed": 0,
    "phone switched off": 0,
    "server killed": 0,
  };
  let said = 0;
  let phone = await switchOn();
  let { page } = phone;
  await page.goto(address, SOON);

  const sayAFew = async (most: number): Promise<void> => {
    for (let left = 1 + random.below(most); left > 0; left -= 1) {
      said += 1;
      await say(page, said);
    }
  };
  const openAgain = async (): Promise<void> => {
    const next = await page.context().newPage();
    await page.close();
    page = next;
    await page.goto(address, SOON);
  };
  const turn = async (isOff: boolean): Promise<void> => {
    network.be(isOff ? "away" : "there");
    await page.context().setOffline(isOff);
  };

  const cuts: Readonly<Record<Cut, () => Promise<void>>> = {
    "no signal": async () => {
      await turn(true);
      await sayAFew(3);
      await sleep(random.below(300));
      await turn(false);
    },
    "answers lost": async () => {
      network.be("lossy");
      await sayAFew(2);
      await sleep(random.below(400));
      network.be("there");
    },
    "page closed": async () => {
      const isOff = random.below(2) === 0;
      if (isOff) network.be("away");
      await sayAFew(2);
      await openAgain();
      network.be("there");
    },
    "phone switched off": async () => {
      network.be((["there", "away", "lossy"] as const)[random.below(3)] ?? "there");
      await sayAFew(2);
      await sleep(random.below(100));
      await phone.switchOff();
      phone = await switchOn();
      ({ page } = phone);
      await page.goto(address, SOON);
      network.be("there");
    },
    "server killed": async () => {
      const dead = killServer();
      await sayAFew(2);
      await dead;
    },
  };

  for (let round = 0; round < rounds; round += 1) {
    // The costly ones now and then, the others mostly.
    const cut = CUTS[random.below(10)] ?? CUTS[random.below(3)] ?? "no signal";
    made[cut] += 1;
    await cuts[cut]();
    await sleep(random.below(150));
  }
  await page.goto(address, SOON);
  // Not by what the page shows: it shows nothing yet when it has just been opened.
  await expect.poll(() => page.evaluate(countKept), { timeout: 120_000, interval: 250 }).toBe(0);
  await phone.close();
  return { made, said };
}
