/** An answer as it comes over the wire: still packed, every byte of it counted. fetch would unpack it. */
import { connect } from "node:net";

export interface RawAnswer {
  readonly status: number;
  /** By name in small letters; of a header that comes several times, the last. */
  readonly headers: Readonly<Record<string, string>>;
  /** Without the lengths between its parts; still packed. */
  readonly body: Buffer;
  /** Everything that came: status line, headers, body. */
  readonly bytes: number;
}

/** Asks as a browser does that keeps its connection, which tells where the answer ends. */
export function askRaw(
  url: string,
  path: string,
  headers: Readonly<Record<string, string>> = {},
): Promise<RawAnswer> {
  const { hostname, port, host } = new URL(url);
  return new Promise((resolve, reject) => {
    let came = Buffer.alloc(0);
    const socket = connect(Number(port), hostname, () => {
      const lines = Object.entries({ host, connection: "keep-alive", ...headers }).map(
        ([name, value]) => `${name}: ${value}\r\n`,
      );
      socket.write(`GET ${path} HTTP/1.1\r\n${lines.join("")}\r\n`);
    });
    socket.on("error", reject);
    socket.on("close", () => reject(new Error(`the answer to ${path} was cut off`)));
    socket.on("data", (part: Buffer) => {
      came = Buffer.concat([came, part]);
      const answer = readAnswer(came);
      if (answer === undefined) return;
      resolve(answer);
      socket.destroy();
    });
  });
}

const END_OF_HEAD = "\r\n\r\n";

/** Undefined as long as not all of it is there. */
function readAnswer(came: Buffer): RawAnswer | undefined {
  const endOfHead = came.indexOf(END_OF_HEAD);
  if (endOfHead === -1) return undefined;
  const [statusLine = "", ...lines] = came.subarray(0, endOfHead).toString("latin1").split("\r\n");
  const headers = Object.fromEntries(
    lines.map((line) => {
      const colon = line.indexOf(":");
      return [line.slice(0, colon).toLowerCase(), line.slice(colon + 1).trim()];
    }),
  );
  const status = Number(statusLine.split(" ")[1]);
  const start = endOfHead + END_OF_HEAD.length;
  const isEmpty = status === 304;
  if (headers["transfer-encoding"] !== "chunked") {
    const end = start + (isEmpty ? 0 : Number(headers["content-length"] ?? 0));
    return came.length < end
      ? undefined
      : { status, headers, body: came.subarray(start, end), bytes: came.length };
  }
  const parts: Buffer[] = [];
  for (let at = start; ;) {
    const endOfLength = came.indexOf("\r\n", at);
    if (endOfLength === -1) return undefined;
    const length = Number.parseInt(came.subarray(at, endOfLength).toString("latin1"), 16);
    const next = endOfLength + 2 + length + 2;
    if (came.length < next) return undefined;
    if (length === 0) return { status, headers, body: Buffer.concat(parts), bytes: came.length };
    parts.push(came.subarray(endOfLength + 2, next - 2));
    at = next;
  }
}
