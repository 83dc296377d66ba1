/**
 * Sessions as rows: who is signed in, by the hash of a token.
 */
import type { Person } from "../domain/person.js";
import type { Queries } from "./database.js";
import { PERSON_COLUMNS, toPerson, type PersonRow } from "./people-store.js";

export interface StoredSession {
  readonly person: Person;
  readonly lastSeenAt: Date;
  readonly expiresAt: Date;
}

export interface NewSession {
  readonly tokenHash: string;
  readonly personId: number;
  readonly madeAt: Date;
  readonly expiresAt: Date;
}

export async function insertSession(queries: Queries, session: NewSession): Promise<void> {
  await queries.query(
    `insert into session (token_hash, person_id, made_at, last_seen_at, expires_at) values ($1, $2, $3, $3, $4)`,
    [session.tokenHash, session.personId, session.madeAt, session.expiresAt],
  );
}

/** Whether it still holds is for the caller to say. */
export async function findSession(queries: Queries, tokenHash: string): Promise<StoredSession | undefined> {
  const [row] = await queries.query<PersonRow & { last_seen_at: Date; expires_at: Date }>(
    `select ${PERSON_COLUMNS}, s.last_seen_at, s.expires_at
       from session s join person p on p.id = s.person_id where s.token_hash = $1`,
    [tokenHash],
  );
  return row === undefined
    ? undefined
    : { person: toPerson(row), lastSeenAt: row.last_seen_at, expiresAt: row.expires_at };
}

export async function touchSession(queries: Queries, tokenHash: string, at: Date): Promise<void> {
  await queries.query("update session set last_seen_at = $2 where token_hash = $1 and last_seen_at < $2", [
    tokenHash,
    at,
  ]);
}

export async function deleteSession(queries: Queries, tokenHash: string): Promise<void> {
  await queries.query("delete from session where token_hash = $1", [tokenHash]);
}

/** Ends all sessions of a person, but for the one named. */
export async function deleteSessionsOf(
  queries: Queries,
  personId: number,
  exceptTokenHash: string | null = null,
): Promise<void> {
  await queries.query(
    "delete from session where person_id = $1 and ($2::text is null or token_hash <> $2::text)",
    [personId, exceptTokenHash],
  );
}

/** Clears away what has ended anyway: not seen since `seenBefore`, or past its end at `now`. */
export async function deleteEndedSessions(
  queries: Queries,
  { seenBefore, now }: { readonly seenBefore: Date; readonly now: Date },
): Promise<void> {
  await queries.query("delete from session where last_seen_at < $1 or expires_at <= $2", [seenBefore, now]);
}
