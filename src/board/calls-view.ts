/** The list of calls to make in finished words: whom, which dates, what to say, and who has made them. */
import { civilDate, formatAt, minuteOfDate } from "../domain/time.js";
import { clock, shortDate } from "./spoken-time.js";

/** A call as it is kept. */
export interface KeptCall {
  readonly id: number;
  readonly version: number;
  readonly whom: "homeowner" | "subcontractor" | "supplier";
  readonly name: string;
  readonly dates: readonly {
    readonly what: string;
    readonly from: string | null;
    readonly to: string | null;
  }[];
  readonly say: string;
  readonly tickedAt: Date | null;
  readonly tickedBy: string | null;
  readonly withdrawnBy: number | null;
}

export interface KeptSource {
  readonly version: number;
  readonly madeAt: Date;
  readonly personName: string;
  readonly sentence: string;
}

export interface CallView {
  readonly id: number;
  readonly name: string;
  /** `from` is empty where there was none. */
  readonly dates: readonly { readonly what: string; readonly from: string; readonly to: string }[];
  readonly say: string;
  /** "Made Mon 7 Dec, 6:10 pm by Casey"; "withdrawn: …"; empty while it is open. */
  readonly done: string;
  readonly state: "open" | "made" | "withdrawn";
  /** Which change it comes from. */
  readonly from: string;
  readonly version: number;
}

export interface CallsView {
  readonly open: readonly CallView[];
  readonly made: readonly CallView[];
  readonly withdrawn: readonly CallView[];
  /** "3 calls to make"; "No call is left to make". */
  readonly line: string;
  readonly sources: readonly { readonly version: number; readonly words: string }[];
}

/** In the order in which they come. */
export function buildCallsView(
  list: {
    readonly calls: readonly KeptCall[];
    readonly open: number;
    readonly sources: readonly KeptSource[];
  },
  zone: string,
): CallsView {
  const sources = new Map(list.sources.map((source) => [source.version, sayWhen(source.madeAt, zone)]));
  const views = list.calls.map((call): CallView => ({
    id: call.id,
    name: call.name,
    dates: call.dates.map(({ what, from, to }) => ({
      what,
      from: from === null ? "" : sayDate(from),
      to: to === null ? "no date" : sayDate(to),
    })),
    say: call.say,
    done: sayDone(call, zone),
    state: call.withdrawnBy !== null ? "withdrawn" : call.tickedAt !== null ? "made" : "open",
    from: sources.get(call.version) ?? `change ${call.version}`,
    version: call.version,
  }));
  const of = (state: CallView["state"]): readonly CallView[] => views.filter((view) => view.state === state);
  return {
    open: of("open"),
    made: of("made"),
    withdrawn: of("withdrawn"),
    line:
      list.open === 0
        ? "No call is left to make."
        : `${list.open} ${list.open === 1 ? "call is" : "calls are"} to be made.`,
    sources: list.sources
      .toSorted((a, b) => b.version - a.version)
      .map(({ version, madeAt, personName, sentence }) => ({
        version,
        words: `${sayWhen(madeAt, zone)}, ${personName}: ${sentence}`,
      })),
  };
}

function sayDate(text: string): string {
  return shortDate(civilDate(text), "en");
}

function sayDone({ tickedAt, tickedBy, withdrawnBy }: KeptCall, zone: string): string {
  if (withdrawnBy !== null) return `Needless: what it was about has been taken back (change ${withdrawnBy}).`;
  return tickedAt === null ? "" : `Made ${sayWhen(tickedAt, zone)} by ${tickedBy ?? "somebody"}.`;
}

function sayWhen(at: Date, zone: string): string {
  const minute = minuteOfDate(at);
  return `${formatAt(minute, zone, "ccc d LLL", "en-US")}, ${clock(minute, zone, "en")}`;
}
