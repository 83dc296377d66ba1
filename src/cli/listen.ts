/**
 * A server's life: it listens, says where, and stops when this process is asked to (SIGINT, SIGTERM).
 */
import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import { reasonOf } from "../store/company-file-store.js";

const STOP_SIGNALS = ["SIGINT", "SIGTERM"] as const;
/** How long requests under way may take after the stop was asked for. */
const GRACE_MS = 3_000;
/** A client that takes longer to send a request is cut off: a photo over a poor signal must fit. */
const REQUEST_TIMEOUT_MS = 120_000;
const HEADERS_TIMEOUT_MS = 15_000;

/**
 * Ends with `ok` after a stop that was asked for; fails where the address cannot be listened on. `onStop` is called when
 * the stop begins: answers that would have no end by themselves have to end then.
 */
export async function listenUntilStopped(
  app: RequestListener,
  { port, host }: { readonly port: number; readonly host: string },
  onListening: (url: string) => void,
  onStop: () => void = () => undefined,
): Promise<Result<void, string>> {
  const timeouts = { requestTimeout: REQUEST_TIMEOUT_MS, headersTimeout: HEADERS_TIMEOUT_MS };
  const server = createServer(timeouts, app);
  const failure = await new Promise<unknown>((resolve) => {
    server.once("error", resolve);
    server.listen(port, host, () => resolve(undefined));
  });
  if (failure !== undefined) return fail(sentenceOf(failure, port, host));
  const stop = waitForStop();
  onListening(urlOf(server));
  await stop;
  onStop();
  await close(server);
  return ok(undefined);
}

/** Resolves at the first stop signal; a second one ends the process as if nobody had listened. */
function waitForStop(): Promise<void> {
  return new Promise((resolve) => {
    const onSignal = (): void => {
      for (const signal of STOP_SIGNALS) process.off(signal, onSignal);
      resolve();
    };
    for (const signal of STOP_SIGNALS) process.on(signal, onSignal);
  });
}

async function close(server: Server): Promise<void> {
  const closed = new Promise<void>((resolve) => {
    server.close(() => resolve());
  });
  server.closeIdleConnections();
  const impatience = setTimeout(() => server.closeAllConnections(), GRACE_MS);
  await closed;
  clearTimeout(impatience);
}

function urlOf(server: Server): string {
  const address = server.address();
  invariant(address !== null && typeof address !== "string", "a listening server has an address and a port");
  const { address: host, family, port }: AddressInfo = address;
  return `http://${family === "IPv6" ? `[${host}]` : host}:${port}/`;
}

function sentenceOf(error: unknown, port: number, host: string): string {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "EADDRINUSE") {
    return `Port ${port} is taken by another program. Choose another with --port, or --port 0 for any free one.`;
  }
  if (code === "EACCES")
    return `Port ${port} may not be used by this user. Choose one from 1024 with --port.`;
  if (code === "EADDRNOTAVAIL" || code === "ENOTFOUND") {
    return `"${host}" is no address of this machine. Choose another with --host.`;
  }
  return `The server cannot listen on ${host}, port ${port}: ${reasonOf(error)}.`;
}
