/** What calendar feeds have said, as rows: one for each stay of a crew at a house that was ever fed. */
import type { CivilDate } from "../domain/time.js";
import type { Queries } from "./database.js";

export interface FedEventRow<Body> {
  readonly uid: string;
  readonly date: CivilDate;
  readonly sequence: number;
  readonly stampedAt: Date;
  readonly isCancelled: boolean;
  /** The version of the company by which it was written last. */
  readonly version: number;
  readonly body: Body;
}

/** All of one crew, in order of date. The caller vouches for the body's shape: it alone writes it. */
export function listFedEvents<Body>(queries: Queries, crewId: string): Promise<readonly FedEventRow<Body>[]> {
  return queries.query<FedEventRow<Body>>(
    `select uid, date, sequence, stamped_at as "stampedAt", is_cancelled as "isCancelled", version, body
     from fed_event where crew_id = $1 order by date, uid`,
    [crewId],
  );
}

export async function writeFedEvent<Body>(
  queries: Queries,
  crewId: string,
  row: FedEventRow<Body>,
): Promise<void> {
  await queries.query(
    `insert into fed_event (uid, crew_id, date, sequence, stamped_at, is_cancelled, version, body)
     values ($1, $2, $3, $4, $5, $6, $7, $8::jsonb)
     on conflict (uid) do update set sequence = excluded.sequence, stamped_at = excluded.stamped_at,
       is_cancelled = excluded.is_cancelled, version = excluded.version, body = excluded.body`,
    [
      row.uid,
      crewId,
      row.date,
      row.sequence,
      row.stampedAt,
      row.isCancelled,
      row.version,
      JSON.stringify(row.body),
    ],
  );
}
