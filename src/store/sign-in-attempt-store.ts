/**
 * How often somebody has tried to sign in and failed, by account and by network address. In the database, so that it
 * outlives a restart and holds for all processes together.
 */
import { present } from "../domain/result.js";
import type { Queries } from "./database.js";

/** How one scope is slowed down: so many failures cost nothing, then each one doubles the wait. */
export interface Throttle {
  readonly scope: "account" | "address";
  readonly freeFailures: number;
  readonly firstWaitSeconds: number;
  readonly longestWaitSeconds: number;
}

/**
 * Counts a try as failed before it is looked at, so that many at once cannot slip through together. In one statement,
 * and not in a serializable transaction: then one try waits for the other instead of being thrown back.
 * Gives undefined where the try may be made, and else the time before which none may; a try that comes too early counts
 * for nothing.
 */
export async function countTry(
  queries: Queries,
  { scope, freeFailures, firstWaitSeconds, longestWaitSeconds }: Throttle,
  { key, now, forgottenBefore }: { readonly key: string; readonly now: Date; readonly forgottenBefore: Date },
): Promise<Date | undefined> {
  const counted = await queries.query(
    `insert into sign_in_attempt as a (scope, key, failures, last_at, free_at)
     values ($1, $2, 1, $3, $3)
     on conflict (scope, key) do update set
       failures = case when a.last_at < $4 then 1 else a.failures + 1 end,
       last_at = $3,
       free_at = $3::timestamptz + make_interval(secs => case
         when a.last_at < $4 or a.failures + 1 < $5 then 0
         else least($7, $6 * power(2, least(a.failures + 1 - $5, 30)))
       end)
     where a.free_at <= $3
     returning a.failures`,
    [scope, key, now, forgottenBefore, freeFailures, firstWaitSeconds, longestWaitSeconds],
  );
  if (counted.length > 0) return undefined;
  const [row] = await queries.query<{ free_at: Date }>(
    "select free_at from sign_in_attempt where scope = $1 and key = $2",
    [scope, key],
  );
  // The row may have been cleared away in between: then the wait is over.
  return row?.free_at ?? now;
}

/** After a success: nothing stands against the account. */
export async function forgetTries(queries: Queries, scope: "account", key: string): Promise<void> {
  await queries.query("delete from sign_in_attempt where scope = $1 and key = $2", [scope, key]);
}

/** After a success: takes back the one try that was counted, and leaves what others at the address have failed. */
export async function takeBackTry(queries: Queries, scope: "address", key: string, now: Date): Promise<void> {
  await queries.query(
    "update sign_in_attempt set failures = greatest(failures - 1, 0), free_at = $3 where scope = $1 and key = $2",
    [scope, key, now],
  );
}

/** Clears away what nobody counts any more. */
export async function deleteOldTries(queries: Queries, before: Date): Promise<void> {
  await queries.query("delete from sign_in_attempt where last_at < $1", [before]);
}

/** How many rows there are. */
export async function countStoredTries(queries: Queries): Promise<number> {
  const [row] = await queries.query<{ count: number }>("select count(*) as count from sign_in_attempt");
  return present(row, "the count").count;
}
