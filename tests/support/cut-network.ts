/**
 * What lies between a phone and the server, as a test wants it: there, away, or losing answers on their way back. The
 * address stays the same while the server behind it is another one.
 */
import {
  Agent,
  createServer,
  request,
  type IncomingHttpHeaders,
  type IncomingMessage,
  type OutgoingHttpHeaders,
  type ServerResponse,
} from "node:http";
import type { AddressInfo } from "node:net";

/**
 * "lossy": what is sent arrives and is answered, and the answer never comes back. "silent": nothing arrives, and nobody
 * says so.
 */
export type Network = "there" | "away" | "lossy" | "silent";

export interface CutNetwork {
  /** Of the phone's side; without a slash at the end. */
  readonly url: string;
  be(network: Network): void;
  /** Something in between answers everything itself, until the network is something else. */
  fail(status: number, html: string): void;
  /** What lies behind it from now on. */
  leadTo(url: string): void;
  /** Lets answers of a path come with another text: a new version of a file. */
  replace(path: string, change: (text: string) => string): void;
  /** Of forms: sent, answered, and never heard of. */
  countLostAnswers(): number;
  /** Of forms: answered by what is in between. */
  countFailedForms(): number;
  /** What has come through, each with every byte that the server has sent for it: status, headers, body. */
  listAnswers(): readonly PassedAnswer[];
  close(): Promise<void>;
}

export interface PassedAnswer {
  readonly path: string;
  /** What the browser says that it is for (Sec-Fetch-Dest): "document", "script", "serviceworker"; "empty" for fetch. */
  readonly purpose: string;
  readonly bytes: number;
}

const ASKS_FOR_LESS: ReadonlySet<string> = new Set(["if-none-match", "if-modified-since", "accept-encoding"]);
const OF_THE_TEXT: ReadonlySet<string> = new Set(["content-length", "etag", "last-modified"]);

/** Starts on a free port of this machine, in front of the server at `url`. */
export async function startCutNetwork(url: string): Promise<CutNetwork> {
  let network: Network = "there";
  let lostAnswers = 0;
  let failedForms = 0;
  let failure: { readonly status: number; readonly html: string } | undefined;
  let behind = url;
  const replaced = new Map<string, (text: string) => string>();
  const unanswered = new Set<IncomingMessage>();
  const passed: { readonly path: string; readonly purpose: string; readonly countBytes: () => number }[] = [];
  // Connections are kept, as a browser does: their answers have other headers than those that end with theirs.
  const agent = new Agent({ keepAlive: true });

  const pass = (req: IncomingMessage, res: ServerResponse): void => {
    if (network === "away") {
      req.socket.destroy();
      return;
    }
    if (network === "silent") {
      unanswered.add(req);
      return;
    }
    if (failure !== undefined) {
      if (req.method === "POST") failedForms += 1;
      res.writeHead(failure.status, { "content-type": "text/html" }).end(failure.html);
      return;
    }
    const change = replaced.get(req.url ?? "");
    // An answer that can be read here, and never that nothing has changed.
    const headers = change === undefined ? req.headers : without(req.headers, ASKS_FOR_LESS);
    const onward = request(behind + (req.url ?? "/"), { method: req.method, headers, agent }, (answer) => {
      if (change !== undefined) {
        void readText(answer).then((text) => {
          res.writeHead(answer.statusCode ?? 502, without(answer.headers, OF_THE_TEXT)).end(change(text));
        });
        return;
      }
      if (network === "lossy") {
        // The whole answer has been given: what it tells of is done.
        const lose = (): void => {
          if (req.method === "POST") lostAnswers += 1;
          req.socket.destroy();
        };
        readText(answer).then(lose, () => req.socket.destroy());
        return;
      }
      res.writeHead(answer.statusCode ?? 502, answer.headers);
      answer.pipe(res);
      answer.on("error", () => req.socket.destroy());
      answer.on("aborted", () => req.socket.destroy());
    });
    onward.on("socket", (socket) => {
      const before = socket.bytesRead;
      let all: number | undefined;
      const countBytes = (): number => all ?? socket.bytesRead - before;
      passed.push({ path: req.url ?? "", purpose: req.headers["sec-fetch-dest"] ?? "", countBytes });
      // The next answer on this connection is another one; a stream has no end.
      onward.on("response", (answer) => answer.on("end", () => (all = countBytes())));
    });
    onward.on("error", () => req.socket.destroy());
    res.on("close", () => onward.destroy());
    req.pipe(onward);
  };

  const server = createServer(pass);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A server that listens on a port has an address with a port.
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}`,
    be(next) {
      network = next;
      failure = undefined;
      if (next === "away") server.closeAllConnections();
      // Whoever waited in silence hears that nothing comes any more.
      for (const req of unanswered) req.socket.destroy();
      unanswered.clear();
    },
    fail(status, html) {
      failure = { status, html };
    },
    leadTo(next) {
      behind = next;
    },
    replace(path, change) {
      replaced.set(path, change);
    },
    countLostAnswers: () => lostAnswers,
    countFailedForms: () => failedForms,
    listAnswers: () =>
      passed.map(({ path, purpose, countBytes }) => ({ path, purpose, bytes: countBytes() })),
    close: () =>
      new Promise((resolve) => {
        agent.destroy();
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}

async function readText(answer: IncomingMessage): Promise<string> {
  const parts: Buffer[] = [];
  for await (const part of answer) parts.push(part as Buffer);
  return Buffer.concat(parts).toString("utf8");
}

function without(headers: IncomingHttpHeaders, names: ReadonlySet<string>): OutgoingHttpHeaders {
  return Object.fromEntries(Object.entries(headers).filter(([name]) => !names.has(name)));
}
