/**
 * Calls to make, as rows. They are written and withdrawn in the transaction of the change that they come from; only the
 * tick of a call that was made is a write of its own.
 */
import { fail, ok, type Result } from "../domain/result.js";
import type { Database, Queries } from "./database.js";

export type CallParty = "homeowner" | "subcontractor" | "supplier";

/** One date that moved; null where there was none, or there is none any more. */
export interface CallDate {
  /** "Siding, front". */
  readonly what: string;
  /** YYYY-MM-DD. */
  readonly from: string | null;
  readonly to: string | null;
}

/** A call as a change makes it. */
export interface NewCall {
  readonly whom: CallParty;
  /** The house's id, the crew's, or `job/delivery`. */
  readonly subject: string;
  /** Whom to call, in words. */
  readonly name: string;
  readonly dates: readonly CallDate[];
  /** Finished sentences for the phone. */
  readonly say: string;
}

export interface CallToMake extends NewCall {
  readonly id: number;
  /** The change that it comes from. */
  readonly version: number;
  readonly tickedAt: Date | null;
  readonly tickedBy: string | null;
  /** The change that made it needless before it was made. */
  readonly withdrawnBy: number | null;
}

/** Why a tick was not set or taken away; the call as it stands, where there is one. */
export type TickFailure =
  | { readonly kind: "no-such-call" }
  | { readonly kind: "withdrawn" | "ticked-already" | "not-ticked"; readonly call: CallToMake };

const COLUMNS = `id, version, whom, subject, name, dates, say, ticked_at as "tickedAt", ticked_by as "tickedBy",
  withdrawn_by as "withdrawnBy"`;

/** Writes the calls of a change, in their order. The change must be on record already. */
export async function insertCalls(
  queries: Queries,
  version: number,
  calls: readonly NewCall[],
): Promise<void> {
  if (calls.length === 0) return;
  await queries.query(
    `insert into call_to_make (version, whom, subject, name, dates, say)
     select $1, whom, subject, name, dates, say
     from rows from (jsonb_to_recordset($2::jsonb) as (whom text, subject text, name text, dates jsonb, say text))
       with ordinality as given (whom, subject, name, dates, say, position)
     order by position`,
    [version, JSON.stringify(calls)],
  );
}

/** The calls of a change, in their order, withdrawn ones included. */
export function listCallsOf(queries: Queries, version: number): Promise<readonly CallToMake[]> {
  return queries.query(`select ${COLUMNS} from call_to_make where version = $1 order by id`, [version]);
}

/**
 * Takes the calls of a change back, for the change `by` that takes it back: those not made yet are withdrawn, and those
 * that `undone` itself had withdrawn are to be made again. What was made already is for the caller to call back about.
 */
export async function withdrawCalls(queries: Queries, undone: number, by: number): Promise<void> {
  await queries.query("update call_to_make set withdrawn_by = null where withdrawn_by = $1", [undone]);
  await queries.query("update call_to_make set withdrawn_by = $2 where version = $1 and ticked_at is null", [
    undone,
    by,
  ]);
}

/** What of the calls to read. */
export interface CallFilter {
  /** Only those of one change. */
  readonly version?: number;
  readonly limit: number;
}

export class CallStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Open ones first, the newest change first; then those made, the last one first; then those withdrawn. */
  list({ version, limit }: CallFilter): Promise<readonly CallToMake[]> {
    return this.#database.query(
      `select ${COLUMNS} from call_to_make
       where ($1::bigint is null or version = $1)
       order by withdrawn_by is not null, ticked_at is not null, ticked_at desc,
         (case when ticked_at is null then version end) desc, id
       limit $2`,
      [version ?? null, limit],
    );
  }

  async countOpen(): Promise<number> {
    const [row] = await this.#database.query<{ open: number }>(
      "select count(*) as open from call_to_make where ticked_at is null and withdrawn_by is null",
    );
    return row?.open ?? 0;
  }

  /** The changes that calls come from, the newest first. */
  async listVersions(limit: number): Promise<readonly number[]> {
    const rows = await this.#database.query<{ version: number }>(
      "select distinct version from call_to_make order by version desc limit $1",
      [limit],
    );
    return rows.map(({ version }) => version);
  }

  /** Ticks a call off, or takes the tick away. */
  setTick(
    id: number,
    tick: { readonly at: Date; readonly by: string } | null,
  ): Promise<Result<CallToMake, TickFailure>> {
    return this.#database.transaction(async (queries) => {
      const [call] = await queries.query<CallToMake>(
        `select ${COLUMNS} from call_to_make where id = $1 for update`,
        [id],
      );
      if (call === undefined) return fail<TickFailure>({ kind: "no-such-call" });
      if (call.withdrawnBy !== null) return fail<TickFailure>({ kind: "withdrawn", call });
      const isTicked = call.tickedAt !== null;
      if (isTicked && tick !== null) return fail<TickFailure>({ kind: "ticked-already", call });
      if (!isTicked && tick === null) return fail<TickFailure>({ kind: "not-ticked", call });
      const [tickedAt, tickedBy] = [tick?.at ?? null, tick?.by ?? null];
      await queries.query("update call_to_make set ticked_at = $2, ticked_by = $3 where id = $1", [
        id,
        tickedAt,
        tickedBy,
      ]);
      return ok({ ...call, tickedAt, tickedBy });
    });
  }
}
