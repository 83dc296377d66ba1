/**
 * The open streams of an app (server-sent events, as the HTML standard describes them): each hears of every change of
 * what stands. One timer for all of them says now and then that they are still there, and looks whether their askers are.
 */
import type { Response } from "express";
import type { Desk } from "../services/desk.js";
import type { CompanyRecord } from "../services/record.js";
import type { SiteReports } from "../services/site-reports.js";
import { HttpRefusal } from "./http-refusal.js";
import { liveStampOf, reportsStampOf } from "./live-stamp.js";

/** Well below the minute after which proxies cut off what is silent. */
const TICK_MS = 15_000;
/** How long a browser waits before it asks again, after it has lost a stream. */
const RETRY_MS = 2_000;
const MOST_STREAMS = 2_000;
/** Of one session or one crew link: far more windows than anybody looks at. */
const MOST_OF_ONE = 30;
/** Whoever has not read this much is not there any more. */
const MOST_UNREAD_BYTES = 64 * 1024;

/** Who listens. */
export interface Listener {
  /** The same for all streams of one session or one link. */
  readonly key: string;
  /** People learn who has changed something; a crew's phone does not. */
  readonly hearsWho: boolean;
  /** Whether the session or the link still lets in. */
  readonly isStillGood: () => Promise<boolean>;
}

interface Stream {
  readonly listener: Listener;
  readonly res: Response;
}

export class LiveStreams {
  readonly #desk: Pick<Desk, "current" | "onChange">;
  readonly #record: Pick<CompanyRecord, "find">;
  readonly #reports: Pick<SiteReports, "standing">;
  readonly #log: (error: unknown) => void;
  readonly #streams = new Set<Stream>();
  #timer: NodeJS.Timeout | undefined;
  #endListening: (() => void) | undefined;
  #isOver = false;
  #isChecking = false;
  /** Who made the change of that version. */
  #maker: { readonly version: number; readonly name: Promise<string | null> } | undefined;

  constructor(
    desk: Pick<Desk, "current" | "onChange">,
    record: Pick<CompanyRecord, "find">,
    reports: Pick<SiteReports, "standing">,
    log: (error: unknown) => void,
  ) {
    this.#desk = desk;
    this.#record = record;
    this.#reports = reports;
    this.#log = log;
  }

  get count(): number {
    return this.#streams.size;
  }

  /** Answers with a stream that stays open; begins with what stands now. */
  open(listener: Listener, res: Response): void {
    if (this.#isOver) throw new HttpRefusal(503, "The server is being stopped.");
    const ofOne = [...this.#streams].filter((stream) => stream.listener.key === listener.key).length;
    if (this.#streams.size >= MOST_STREAMS || ofOne >= MOST_OF_ONE) {
      throw new HttpRefusal(
        503,
        "Too many pages listen for changes. Close some, or reload this one now and then.",
      );
    }
    const stream = { listener, res };
    res.status(200).set({
      "Content-Type": "text/event-stream; charset=utf-8",
      "Cache-Control": "no-store",
      // A proxy that collects an answer before it passes it on would pass on nothing.
      "X-Accel-Buffering": "no",
    });
    res.write(`retry: ${RETRY_MS}\n\n`);
    this.#streams.add(stream);
    res.once("close", () => this.#forget(stream));
    this.#begin();
    this.#tell([stream]).catch(this.#log);
  }

  /** Ends all streams, now, and lets none begin. */
  close(): void {
    this.#isOver = true;
    for (const { res } of this.#streams) res.end();
    this.#rest();
  }

  #begin(): void {
    this.#endListening ??= this.#desk.onChange(() => {
      this.#tell([...this.#streams]).catch(this.#log);
    });
    // The timer keeps no process alive.
    this.#timer ??= setInterval(() => this.#tick(), TICK_MS).unref();
  }

  #rest(): void {
    this.#endListening?.();
    this.#endListening = undefined;
    clearInterval(this.#timer);
    this.#timer = undefined;
  }

  #forget(stream: Stream): void {
    this.#streams.delete(stream);
    if (this.#streams.size === 0) this.#rest();
  }

  async #tell(streams: readonly Stream[]): Promise<void> {
    const state = this.#desk.current();
    // That a change is told matters more than the marks: where they cannot be read, no page shows others.
    const marks = this.#reports.standing().then(({ mark }) => ({ reports: reportsStampOf(mark) }));
    const [by, marked] = await Promise.all([this.#makerOf(state.version), marks.catch(() => ({}))]);
    const stamp = liveStampOf(state);
    const people = { ...stamp, ...marked, by };
    const forPeople = `event: now\ndata: ${JSON.stringify(people)}\n\n`;
    const forCrews = `event: now\ndata: ${JSON.stringify(stamp)}\n\n`;
    for (const stream of streams) send(stream, stream.listener.hearsWho ? forPeople : forCrews);
  }

  #makerOf(version: number): Promise<string | null> {
    if (this.#maker?.version !== version) {
      const name = this.#record.find(version).then((change) => change?.personName ?? null);
      // That a change is told matters more than whose it is.
      this.#maker = { version, name: name.catch(() => null) };
    }
    return this.#maker.name;
  }

  #tick(): void {
    // A day that has ended since is another day's plan: whoever looks at what stands makes the desk notice.
    this.#desk.current();
    // A comment for whatever stands between, an event for the page's script, which sees no comments.
    for (const stream of this.#streams) send(stream, ": still here\nevent: alive\ndata:\n\n");
    this.#checkListeners().catch(this.#log);
  }

  /** Ends the streams of sessions that have ended and of links that were taken back; one question for each. */
  async #checkListeners(): Promise<void> {
    if (this.#isChecking) return;
    this.#isChecking = true;
    try {
      const answers = new Map<string, boolean>();
      for (const { listener, res } of this.#streams) {
        // Where it cannot be found out, nobody is told anything.
        const isGood = answers.get(listener.key) ?? (await listener.isStillGood().catch(() => false));
        answers.set(listener.key, isGood);
        if (!isGood) res.end();
      }
    } finally {
      this.#isChecking = false;
    }
  }
}

function send({ res }: Stream, text: string): void {
  if (res.writableEnded || res.destroyed) return;
  if (res.writableLength > MOST_UNREAD_BYTES) res.destroy();
  else res.write(text);
}
