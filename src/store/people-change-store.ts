/**
 * The record of what was done about people and crew links: one row for each change, written in its transaction.
 * Never rewritten. No secret gets in: neither hashes nor tokens.
 */
import type { Queries } from "./database.js";

/** What can happen, each with a sentence in the row. */
export type PeopleChangeKind =
  | "first-owner"
  | "person-invited"
  | "invitation-renewed"
  | "invitation-answered"
  | "role-changed"
  | "person-disabled"
  | "person-enabled"
  | "reset-link-made"
  | "password-reset"
  | "password-changed"
  | "signed-out-everywhere"
  | "crew-link-made"
  | "crew-link-renewed"
  | "crew-link-revoked"
  | "feed-link-made"
  | "feed-link-renewed"
  | "feed-link-revoked"
  | "house-link-made"
  | "house-link-renewed"
  | "house-link-revoked";

type Facts = Readonly<Record<string, string | boolean>>;

export interface NewPeopleChange {
  readonly madeAt: Date;
  /** Null where nobody was signed in. */
  readonly personId: number | null;
  readonly personName: string;
  readonly kind: PeopleChangeKind;
  readonly sentence: string;
  /** Empty where nobody gave a reason. */
  readonly why: string;
  readonly subject:
    { readonly personId: number } | { readonly crewId: string } | { readonly houseId: string };
  readonly before: Facts | null;
  readonly after: Facts | null;
}

export interface PeopleChange extends NewPeopleChange {
  readonly id: number;
}

interface PeopleChangeRow {
  readonly id: number;
  readonly made_at: Date;
  readonly person_id: number | null;
  readonly person_name: string;
  readonly kind: PeopleChangeKind;
  readonly sentence: string;
  readonly why: string;
  readonly subject_person_id: number | null;
  readonly subject_crew_id: string | null;
  readonly subject_house_id: string | null;
  readonly before: Facts | null;
  readonly after: Facts | null;
}

export async function writePeopleChange(queries: Queries, change: NewPeopleChange): Promise<void> {
  const { subject } = change;
  await queries.query(
    `insert into people_change (made_at, person_id, person_name, kind, sentence, why,
                                subject_person_id, subject_crew_id, subject_house_id, before, after)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10::jsonb, $11::jsonb)`,
    [
      change.madeAt,
      change.personId,
      change.personName,
      change.kind,
      change.sentence,
      change.why,
      "personId" in subject ? subject.personId : null,
      "crewId" in subject ? subject.crewId : null,
      "houseId" in subject ? subject.houseId : null,
      change.before === null ? null : JSON.stringify(change.before),
      change.after === null ? null : JSON.stringify(change.after),
    ],
  );
}

/** The newest first, at most `most` of those before `beforeId` (where it is given). */
export async function listPeopleChanges(
  queries: Queries,
  { most, beforeId }: { readonly most: number; readonly beforeId?: number },
): Promise<readonly PeopleChange[]> {
  const rows = await queries.query<PeopleChangeRow>(
    `select * from people_change where $1::bigint is null or id < $1::bigint order by id desc limit $2`,
    [beforeId ?? null, most],
  );
  return rows.map(toPeopleChange);
}

/** The last change about a person, or undefined. */
export async function findLastChangeOf(
  queries: Queries,
  personId: number,
): Promise<PeopleChange | undefined> {
  const [row] = await queries.query<PeopleChangeRow>(
    "select * from people_change where subject_person_id = $1 order by id desc limit 1",
    [personId],
  );
  return row === undefined ? undefined : toPeopleChange(row);
}

function toPeopleChange(row: PeopleChangeRow): PeopleChange {
  return {
    id: row.id,
    madeAt: row.made_at,
    personId: row.person_id,
    personName: row.person_name,
    kind: row.kind,
    sentence: row.sentence,
    why: row.why,
    subject: toSubject(row),
    before: row.before,
    after: row.after,
  };
}

function toSubject(row: PeopleChangeRow): PeopleChange["subject"] {
  if (row.subject_person_id !== null) return { personId: row.subject_person_id };
  if (row.subject_house_id !== null) return { houseId: row.subject_house_id };
  return { crewId: row.subject_crew_id ?? "" };
}
