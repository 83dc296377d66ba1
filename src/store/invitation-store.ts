/**
 * One-time links as rows. A person has at most one that still holds: a new one takes the place of the one before.
 */
import type { Person } from "../domain/person.js";
import type { Queries } from "./database.js";
import { PERSON_COLUMNS, toPerson, type PersonRow } from "./people-store.js";

/** Making the first owner; a new person's first password; a new password for somebody who has one. */
export type InvitationPurpose = "first-owner" | "welcome" | "reset";

export interface StoredInvitation {
  readonly purpose: InvitationPurpose;
  /** Whom it is for; undefined for the first owner. */
  readonly person: Person | undefined;
  readonly expiresAt: Date;
  readonly usedAt: Date | undefined;
}

export interface NewInvitation {
  readonly tokenHash: string;
  readonly purpose: InvitationPurpose;
  /** Null for the first owner. */
  readonly personId: number | null;
  readonly madeAt: Date;
  readonly expiresAt: Date;
}

/** Puts the invitation in the place of every unused one for the same person. */
export async function replaceInvitation(queries: Queries, invitation: NewInvitation): Promise<void> {
  await deleteUnusedInvitations(queries, invitation.personId);
  await queries.query(
    `insert into invitation (token_hash, person_id, purpose, made_at, expires_at) values ($1, $2, $3, $4, $5)`,
    [invitation.tokenHash, invitation.personId, invitation.purpose, invitation.madeAt, invitation.expiresAt],
  );
}

/** Those for a person, or those for a first owner. */
export async function deleteUnusedInvitations(queries: Queries, personId: number | null): Promise<void> {
  await queries.query(
    "delete from invitation where person_id is not distinct from $1::bigint and used_at is null",
    [personId],
  );
}

/** Whether it still holds is for the caller to say. */
export async function findStoredInvitation(
  queries: Queries,
  tokenHash: string,
): Promise<StoredInvitation | undefined> {
  // A left join: all of the person's columns are there, or none is.
  const [row] = await queries.query<
    {
      purpose: InvitationPurpose;
      person_id: number | null;
      expires_at: Date;
      used_at: Date | null;
    } & PersonRow
  >(
    `select i.purpose, i.person_id, i.expires_at, i.used_at, ${PERSON_COLUMNS}
       from invitation i left join person p on p.id = i.person_id where i.token_hash = $1`,
    [tokenHash],
  );
  if (row === undefined) return undefined;
  return {
    purpose: row.purpose,
    person: row.person_id === null ? undefined : toPerson(row),
    expiresAt: row.expires_at,
    usedAt: row.used_at ?? undefined,
  };
}

export async function markInvitationUsed(queries: Queries, tokenHash: string, at: Date): Promise<void> {
  await queries.query("update invitation set used_at = $2 where token_hash = $1", [tokenHash, at]);
}
