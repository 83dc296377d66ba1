/**
 * MiniZinc in Node without a native installation: the package's WebAssembly build is made for a browser's worker, so the
 * few things that it asks of a browser (a Worker, fetch and XMLHttpRequest of its own two files) are put in its way.
 * One solver process at a time; MiniZinc's "time-limit" ends it with the best that it has found.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";

/** How many times its limit a solver may take before its thread is ended. */
const PATIENCE = 2;

export interface MiniZincAnswer {
  /** OPTIMAL_SOLUTION when the best found is proven; SATISFIED when time ran out. */
  readonly status: string;
  /** Values of the model's variables by name, of the best solution; undefined where none was found. */
  readonly values: Readonly<Record<string, unknown>> | undefined;
}

export interface MiniZincTask {
  readonly model: string;
  readonly data: Readonly<Record<string, unknown>>;
  readonly solver: "chuffed" | "gecode" | "cbc" | "highs";
  readonly milliseconds: number;
}

interface Solving extends Promise<{
  readonly status: string;
  readonly solution: { readonly output: { readonly json?: Record<string, unknown> } } | null;
}> {
  cancel(): void;
}
/** The part of the package that is used. */
interface Package {
  init(config: { readonly numWorkers: number }): Promise<void>;
  shutdown(): void;
  readonly Model: new () => {
    addFile(name: string, contents: string): void;
    addJson(data: object): void;
    solve(config: {
      readonly options: Readonly<Record<string, unknown>>;
      readonly jsonOutput: boolean;
    }): Solving;
  };
}

/** What runs inside the thread: the names of a browser's worker over `parentPort`, then the package's worker script. */
const SHIM = (folder: string): string => `
const { parentPort } = require("node:worker_threads");
const fs = require("node:fs");
const path = require("node:path");
const folder = ${JSON.stringify(folder)};
globalThis.self = globalThis;
globalThis.postMessage = (message) => parentPort.postMessage(message);
const listeners = new Set();
globalThis.addEventListener = (type, listener) => { if (type === "message") listeners.add(listener); };
globalThis.removeEventListener = (_, listener) => listeners.delete(listener);
parentPort.on("message", (data) => {
  for (const listener of [...listeners]) listener({ data });
  if (globalThis.onmessage) globalThis.onmessage({ data });
});
const read = (url) => fs.readFileSync(new URL(String(url).split("?")[0]));
globalThis.fetch = async (url) =>
  new Response(read(url), { headers: { "content-type": String(url).includes(".wasm") ? "application/wasm" : "application/octet-stream" } });
globalThis.location = new URL("file://" + folder + "/minizinc-worker.js");
globalThis.WorkerGlobalScope = class {};
globalThis.XMLHttpRequest = class {
  open(_, url) { this.url = url; }
  send() {
    const bytes = read(this.url);
    this.status = 200;
    this.response = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
    this.onprogress?.({ loaded: bytes.length, total: bytes.length });
    this.onload?.({});
  }
};
globalThis.importScripts = () => {};
Object.defineProperty(globalThis, "process", { value: undefined, writable: true, configurable: true });
require("node:vm").runInThisContext(fs.readFileSync(path.join(folder, "minizinc-worker.js"), "utf8"), { filename: "minizinc-worker.js" });
`;

type Listener = (event: { readonly data: unknown }) => void;

/** A browser's Worker as far as the package uses it. */
function workerClass(folder: string): unknown {
  return class BrowserWorker {
    private readonly listeners = new Map<Listener, boolean>();
    private readonly thread = new Worker(SHIM(folder), { eval: true });
    onmessage: Listener | null = null;

    constructor() {
      this.thread.on("message", (data: unknown) => {
        for (const [listener, once] of new Map(this.listeners)) {
          if (once) this.listeners.delete(listener);
          listener({ data });
        }
        this.onmessage?.({ data });
      });
      this.thread.on("error", (error) => {
        throw error;
      });
    }

    postMessage(message: unknown): void {
      this.thread.postMessage(message, []);
    }

    terminate(): void {
      void this.thread.terminate();
    }

    addEventListener(type: string, listener: Listener, options?: { readonly once?: boolean }): void {
      if (type === "message") this.listeners.set(listener, options?.once === true);
    }

    removeEventListener(_: string, listener: Listener): void {
      this.listeners.delete(listener);
    }
  };
}

export class MiniZinc {
  private constructor(private readonly loaded: Package) {}

  /** Loads the package; throws where it is not installed. */
  static async open(): Promise<MiniZinc> {
    const folder = path.dirname(createRequire(import.meta.url).resolve("minizinc/minizinc.wasm"));
    readFileSync(path.join(folder, "minizinc.data"));
    Object.defineProperty(globalThis, "Worker", {
      value: workerClass(folder),
      configurable: true,
      writable: true,
    });
    // The package's own types are those of its native build; what is used of it is written down above.
    const loaded = (await import(pathToFileURL(path.join(folder, "minizinc.mjs")).href)) as Package;
    await loaded.init({ numWorkers: 1 });
    return new MiniZinc(loaded);
  }

  async solve({ model, data, solver, milliseconds }: MiniZincTask): Promise<MiniZincAnswer> {
    const instance = new this.loaded.Model();
    instance.addFile("model.mzn", model);
    instance.addJson(data);
    const options = { solver, "time-limit": milliseconds, "free-search": solver === "chuffed" };
    const solving = instance.solve({ options, jsonOutput: true });
    let isEnded = false;
    // A solver in WebAssembly looks at its clock only now and then.
    const timer = setTimeout(() => {
      isEnded = true;
      solving.cancel();
    }, milliseconds * PATIENCE);
    try {
      const { status, solution } = await solving;
      return { status, values: solution?.output.json };
    } catch (error) {
      if (isEnded) return { status: "UNKNOWN", values: undefined };
      throw new Error(`MiniZinc failed: ${JSON.stringify(error)}`, { cause: error });
    } finally {
      clearTimeout(timer);
    }
  }

  close(): void {
    this.loaded.shutdown();
  }
}
