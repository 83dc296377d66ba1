/** Calls to make, as the office works through them: the list, and ticking them off one by one. */
import type { Actor } from "../domain/person.js";
import { fail, type Result } from "../domain/result.js";
import { CallStore, type CallToMake, type TickFailure } from "../store/call-store.js";
import type { Database } from "../store/database.js";
import { findChange } from "../store/record-store.js";

/** A change that calls come from, for people to choose by. */
export interface CallSource {
  readonly version: number;
  readonly madeAt: Date;
  readonly personName: string;
  readonly sentence: string;
}

export interface CallList {
  readonly calls: readonly CallToMake[];
  /** How many are open, whatever is shown. */
  readonly open: number;
  /** The newest changes that calls come from, and the one that was asked for. */
  readonly sources: readonly CallSource[];
}

export interface Calls {
  /** Open ones first; at most `limit`, of one change only where one is named. */
  list(limit: number, version?: number): Promise<CallList>;
  tick(id: number, by: Actor): Promise<Result<CallToMake, TickFailure>>;
  untick(id: number): Promise<Result<CallToMake, TickFailure>>;
}

/** Publishes to choose from; older calls are found by the address of their change. */
const MOST_SOURCES = 30;

/** The calls of a database that has been migrated. `now`: when a tick is set. */
export function openCalls(database: Database, now: () => Date = () => new Date()): Calls {
  const store = new CallStore(database);
  return {
    async list(limit, version) {
      const [calls, open, versions] = await Promise.all([
        store.list({ limit, ...(version !== undefined && { version }) }),
        store.countOpen(),
        store.listVersions(MOST_SOURCES),
      ]);
      const wanted = [...new Set([...versions, ...calls.map((call) => call.version)])];
      const sources = await Promise.all(wanted.map((number) => findChange(database, number)));
      return {
        calls,
        open,
        sources: sources.flatMap((change) =>
          change === undefined
            ? []
            : [
                {
                  version: change.version,
                  madeAt: change.madeAt,
                  personName: change.personName,
                  sentence: change.sentence,
                },
              ],
        ),
      };
    },
    tick: (id, by) => store.setTick(id, { at: now(), by: by.personName }),
    untick: (id) => store.setTick(id, null),
  };
}

/** Where there is no database: no calls, and none to tick. */
export const NO_CALLS: Calls = {
  list: () => Promise.resolve({ calls: [], open: 0, sources: [] }),
  tick: () => Promise.resolve(fail<TickFailure>({ kind: "no-such-call" })),
  untick: () => Promise.resolve(fail<TickFailure>({ kind: "no-such-call" })),
};
