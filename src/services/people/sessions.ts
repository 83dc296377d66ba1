/**
 * Being signed in: a random token in a browser, its hash here, and two limits: twelve hours without use, thirty days in
 * all. What a person may do is looked up with each request, so that a change takes effect at once.
 */
import type { Person } from "../../domain/person.js";
import type { Queries } from "../../store/database.js";
import {
  deleteEndedSessions,
  deleteSession,
  deleteSessionsOf,
  findSession,
  insertSession,
  touchSession,
} from "../../store/session-store.js";
import { findTokenHash, hashOf } from "../token.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, momentOf, record, toActor, type PeopleHouse } from "./house.js";

const IDLE_MS = 12 * HOUR_MS;
const ABSOLUTE_MS = 30 * DAY_MS;

export interface SignedIn {
  readonly person: Person;
  /** For the browser's cookie; nowhere else is it kept. */
  readonly token: string;
}

export interface Sessions {
  /**
   * Who holds the token; undefined where it lets nobody in (any more). A look that is no use by a person (`isUse` false)
   * does not make the session last longer.
   */
  session(token: string, isUse?: boolean): Promise<Person | undefined>;
  /** Ends one session; none is no error. */
  signOut(token: string): Promise<void>;
  /** Ends all sessions of a person, this one included. */
  signOutEverywhere(person: Person): Promise<void>;
}

export function makeSessions({ database, clock }: PeopleHouse): Sessions {
  return {
    async session(token, isUse = true) {
      const tokenHash = findTokenHash(token);
      if (tokenHash === undefined) return undefined;
      const found = await findSession(database, tokenHash);
      if (found === undefined) return undefined;
      const now = clock();
      const idleMs = now - found.lastSeenAt.getTime();
      const hasEnded = now >= found.expiresAt.getTime() || idleMs >= IDLE_MS;
      if (hasEnded || found.person.isDisabled || !found.person.hasPassword) return undefined;
      if (isUse && idleMs >= MINUTE_MS) await touchSession(database, tokenHash, momentOf(now));
      return found.person;
    },
    async signOut(token) {
      const tokenHash = findTokenHash(token);
      if (tokenHash !== undefined) await deleteSession(database, tokenHash);
    },
    signOutEverywhere: (person) =>
      database.transaction(async (queries) => {
        await deleteSessionsOf(queries, person.id);
        await record(queries, momentOf(clock()), toActor(person), {
          kind: "signed-out-everywhere",
          sentence: `${person.name} signed out everywhere.`,
          why: "",
          subject: { personId: person.id },
          before: null,
          after: null,
        });
      }),
  };
}

/**
 * Begins a session under a token that has never been used, in the transaction that let the person in; the session that
 * the browser held before ends.
 */
export async function beginSession(
  queries: Queries,
  nowMs: number,
  session: { readonly personId: number; readonly token: string; readonly tokenBefore: string | undefined },
): Promise<void> {
  const tokenHashBefore = findTokenHash(session.tokenBefore ?? "");
  if (tokenHashBefore !== undefined) await deleteSession(queries, tokenHashBefore);
  await insertSession(queries, {
    tokenHash: hashOf(session.token),
    personId: session.personId,
    madeAt: momentOf(nowMs),
    expiresAt: momentOf(nowMs + ABSOLUTE_MS),
  });
}

/** Clears away what lets nobody in any more. */
export async function clearEndedSessions(queries: Queries, nowMs: number): Promise<void> {
  await deleteEndedSessions(queries, { seenBefore: momentOf(nowMs - IDLE_MS), now: momentOf(nowMs) });
}
