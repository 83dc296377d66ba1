/**
 * What a report has moved, and nothing else: the company before it and after it, each planned at the minute at which it
 * came, in the order of the plan that stood before. Worked out in a thread, one after another, and remembered.
 */
import { NO_RIPPLE, type RippleView } from "../board/ripple-view.js";
import type { Part } from "../domain/company-parts.js";
import type { SiteReport } from "../domain/site-report.js";
import { minuteOfDate, type Minute } from "../domain/time.js";
import type { Database } from "../store/database.js";
import { findPlanBefore, type KeptPlan } from "../store/plan-store.js";
import { findChange, findPartsAt, type PartStates } from "../store/record-store.js";
import { AskedThread, threadFile } from "./asked-thread.js";

/** What of a report its ripple depends on. */
export type RipplingReport = Pick<SiteReport, "key" | "version" | "receivedAt">;

export interface Ripples {
  /** Undefined where there was no plan before it, or where a bug is in the way, which is told to the log. */
  of(report: RipplingReport): Promise<RippleView | undefined>;
}

export interface OpenRipples extends Ripples {
  close(): Promise<void>;
}

/** Where there is no database: none. */
export const NO_RIPPLES: Ripples = { of: () => Promise.resolve(undefined) };

/** What the thread is asked. */
export interface RippleQuestion {
  /** The company after the report. */
  readonly parts: readonly Part[];
  /** What of it the report has altered, as it was. */
  readonly before: PartStates;
  readonly plan: Pick<KeptPlan, "body">;
  readonly asOf: Minute;
}

/** More than the office has open at a time; each is some lines of text. */
const MOST_REMEMBERED = 1000;

export type RippleThread = AskedThread<RippleQuestion, RippleView>;

/** It begins with the first question. */
export function startRippleThread(): RippleThread {
  return new AskedThread(threadFile("ripple-thread"), "working out a ripple");
}

export interface RippleOptions {
  /** Where bugs go; standard error where left out. */
  readonly log?: (error: unknown) => void;
  /** Of whoever started it; one of its own, which is closed with it, where left out. */
  readonly thread?: RippleThread;
}

/** Of a database that has been migrated. */
export function openRipples(database: Database, options: RippleOptions = {}): OpenRipples {
  const { log = console.error } = options;
  const thread = options.thread ?? startRippleThread();
  const known = new Map<string, Promise<RippleView | undefined>>();
  let last: Promise<unknown> = Promise.resolve();
  let isClosed = false;

  const workOut = async ({ version, receivedAt }: RipplingReport): Promise<RippleView | undefined> => {
    const [change, plan] = [await findChange(database, version), await findPlanBefore(database, version)];
    if (change === undefined || plan === undefined) return undefined;
    const { before } = change;
    if (Object.keys({ ...before, ...change.after }).length === 0) return NO_RIPPLE;
    const parts = await findPartsAt(database, version);
    return thread.ask({ parts, before, plan: { body: plan.body }, asOf: minuteOfDate(receivedAt) });
  };

  return {
    of(report) {
      // After a restore another report may have the version of one that is gone.
      const key = `${report.key} ${report.version}`;
      const remembered = known.get(key);
      if (remembered !== undefined) return remembered;
      // Whole companies and plans are in memory for each: so one at a time.
      const found = last
        .then(() => workOut(report))
        .catch((error: unknown) => {
          if (!isClosed) log(error);
          // Whoever asks next tries again.
          known.delete(key);
          return undefined;
        });
      last = found;
      if (known.size >= MOST_REMEMBERED) known.delete(known.keys().next().value ?? "");
      known.set(key, found);
      return found;
    },
    close: () => {
      isClosed = true;
      return options.thread === undefined ? thread.close() : Promise.resolve();
    },
  };
}
