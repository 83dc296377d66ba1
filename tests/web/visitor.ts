/**
 * Somebody with a browser of her own: it keeps the cookies that the app sets, sends them where they belong, and posts forms
 * as a page of the app does. It follows no redirect, so that a test sees each one.
 */
export interface SetCookie {
  readonly name: string;
  readonly value: string;
  readonly path: string;
  /** As set, in lower case: `httponly`, `samesite=lax`, `secure`. */
  readonly attributes: readonly string[];
}

export class Visitor {
  #app: { readonly url: string };
  readonly #headers: Readonly<Record<string, string>>;
  #cookies: SetCookie[] = [];

  /** `headers` go with every request. */
  constructor(app: { readonly url: string }, headers: Readonly<Record<string, string>> = {}) {
    this.#app = app;
    this.#headers = headers;
  }

  /** Goes on with the same cookies where the app has moved to: it was started again. */
  moveTo(app: { readonly url: string }): void {
    this.#app = app;
  }

  get(path: string): Promise<Response> {
    return this.#ask(path, {});
  }

  post(path: string, fields: Readonly<Record<string, string>> = {}): Promise<Response> {
    return this.#ask(path, { method: "POST", body: new URLSearchParams(fields) });
  }

  async textOf(path: string): Promise<string> {
    return (await this.get(path)).text();
  }

  /** The cookies that she holds. */
  get cookies(): readonly SetCookie[] {
    return this.#cookies;
  }

  /** Puts a cookie there from outside, as an attacker or another browser would. */
  hold(cookie: SetCookie): void {
    this.#cookies = [...this.#cookies.filter(({ name }) => name !== cookie.name), cookie];
  }

  async #ask(path: string, init: RequestInit): Promise<Response> {
    const sent = this.#cookies.filter((cookie) => isUnder(path, cookie.path));
    const cookie = sent.map(({ name, value }) => `${name}=${value}`).join("; ");
    const headers = { origin: this.#app.url, ...this.#headers, ...(cookie === "" ? {} : { cookie }) };
    const response = await fetch(this.#app.url + path, { ...init, headers, redirect: "manual" });
    for (const line of response.headers.getSetCookie()) this.#take(parseSetCookie(line));
    return response;
  }

  #take(cookie: SetCookie): void {
    this.hold(cookie);
    if (cookie.attributes.some((attribute) => attribute.startsWith("expires=thu, 01 jan 1970"))) {
      this.#cookies = this.#cookies.filter(({ name }) => name !== cookie.name);
    }
  }
}

export function parseSetCookie(line: string): SetCookie {
  const [pair = "", ...rest] = line.split(";").map((part) => part.trim());
  const at = pair.indexOf("=");
  const attributes = rest.map((attribute) => attribute.toLowerCase());
  const path = rest.find((attribute) => /^path=/i.test(attribute))?.slice("path=".length) ?? "/";
  return { name: pair.slice(0, at), value: pair.slice(at + 1), path, attributes };
}

/** RFC 6265, 5.1.4. */
function isUnder(path: string, cookiePath: string): boolean {
  const [asked = ""] = path.split("?");
  return asked === cookiePath || asked.startsWith(cookiePath.endsWith("/") ? cookiePath : `${cookiePath}/`);
}
