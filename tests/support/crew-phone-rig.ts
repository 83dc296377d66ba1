/**
 * The app, what lies in front of it, and the phone of a crew that has opened its link once and keeps what it is to keep:
 * made once for a file of tests, for each of them takes seconds.
 */
import type { Browser, BrowserContext } from "playwright-core";
import { openPeople, type People } from "../../src/services/people.js";
import { EDITED_COMPANY } from "../web/editing.js";
import { openBrowser } from "./browser.js";
import { keptOf, PHONE, waitUntilKept } from "./crew-phone.js";
import { startCutNetwork, type CutNetwork } from "./cut-network.js";
import { CHEAP, COMMAND_LINE, good } from "./people.js";
import { startServer, type TestServer } from "./server.js";

export const ALDER = { id: "alder", name: "Alder" };
/** Of the crew Alder, for the day of every rig and the day after it. */
export const KEPT_OF_ALDER = keptOf("alder", ["2026-12-03", "2026-12-04"]);

export interface CrewPhoneRig {
  readonly browser: Browser;
  readonly app: TestServer;
  readonly people: People;
  readonly network: CutNetwork;
  /** Of Alder, as the office has sent it. */
  readonly link: string;
  readonly phone: BrowserContext;
  close(): Promise<void>;
}

/** `asOf`: a time of 3 December 2026 in New York, at which the clock stands still. */
export async function startCrewPhone(asOf: string): Promise<CrewPhoneRig> {
  const [browser, app] = await Promise.all([openBrowser(), startServer(EDITED_COMPANY, asOf, {})]);
  const people = openPeople(app.database, { passwordCost: CHEAP });
  const network = await startCutNetwork(app.url);
  const token = good(await people.makePrivateLink("crew", ALDER, COMMAND_LINE));
  const link = `${network.url}/link/${token}`;
  const phone = await browser.newContext(PHONE);
  const first = await phone.newPage();
  await first.goto(link);
  await waitUntilKept(first, KEPT_OF_ALDER);
  await first.close();
  const close = async (): Promise<void> => {
    await browser.close();
    await network.close();
    await app.stop();
  };
  return { browser, app, people, network, link, phone, close };
}
