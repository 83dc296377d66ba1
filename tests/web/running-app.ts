/**
 * The shipped app on a free port, with services that a test hands in, and requests as a browser on that page would send.
 * Where a test is not about people, whoever asks is the owner, as in the demo, and there is no database behind it.
 */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { Person } from "../../src/domain/person.js";
import type { Desk } from "../../src/services/desk.js";
import { openPeople, type People } from "../../src/services/people.js";
import type { Database } from "../../src/store/database.js";
import { createApp, type AppOptions, type AppServices } from "../../src/web/app.js";

export interface RunningApp {
  readonly url: string;
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  /** Posts a form as a page of this app does. */
  post(
    path: string,
    fields: Readonly<Record<string, string>> | URLSearchParams,
    headers?: Record<string, string>,
  ): Promise<Response>;
  close(): Promise<void>;
}

/** Whoever asks, where a test is not about people. */
export const TEST_OWNER: Person = {
  id: 0,
  name: "Robin",
  account: "robin",
  role: "owner",
  version: 1,
  hasPassword: true,
  isDisabled: false,
};

/** People whom nobody may ask for anything that is kept. */
export function peopleWithoutDatabase(): People {
  const refuse = (): Promise<never> => Promise.reject(new Error("this test has no database"));
  const none: Database = { query: refuse, transaction: refuse, connect: refuse, close: refuse };
  return openPeople(none);
}

/** Starts the app as the owner sees it; the test closes it. */
export function startApp(desk: Desk, options: AppOptions = {}): Promise<RunningApp> {
  return startAppWith({ desk, people: peopleWithoutDatabase() }, { automatic: TEST_OWNER, ...options });
}

/** Starts the app with people who have to sign in; the test closes it. */
export async function startAppWith(services: AppServices, options: AppOptions = {}): Promise<RunningApp> {
  const server = createServer(createApp(services, options));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A server that listens on a port has an address with a port.
  const { port } = server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}`;
  return {
    url,
    get: (path, headers = {}) => fetch(url + path, { redirect: "manual", headers }),
    post: (path, fields, headers = { origin: url }) =>
      fetch(url + path, { method: "POST", body: new URLSearchParams(fields), headers, redirect: "manual" }),
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
