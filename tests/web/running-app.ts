/**
 * The shipped app on a free port, with a desk that a test hands in, and requests as a browser on that page would send.
 */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { Desk } from "../../src/services/desk.js";
import { createApp, type AppOptions } from "../../src/web/app.js";

export interface RunningApp {
  readonly url: string;
  get(path: string): Promise<Response>;
  /** Posts a form as a page of this app does. */
  post(
    path: string,
    fields: Readonly<Record<string, string>> | URLSearchParams,
    headers?: Record<string, string>,
  ): Promise<Response>;
  close(): Promise<void>;
}

/** Starts the app; the test closes it. */
export async function startApp(desk: Desk, options: AppOptions = {}): Promise<RunningApp> {
  const server = createServer(createApp(desk, options));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A server that listens on a port has an address with a port.
  const { port } = server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}`;
  return {
    url,
    get: (path) => fetch(url + path, { redirect: "manual" }),
    post: (path, fields, headers = { origin: url }) =>
      fetch(url + path, { method: "POST", body: new URLSearchParams(fields), headers, redirect: "manual" }),
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
