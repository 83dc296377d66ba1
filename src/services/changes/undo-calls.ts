/** What becomes of the calls to make when a change is taken back, in the transaction of the undo. */
import { toCallBack } from "../../board/calls-to-make.js";
import { civilDate } from "../../domain/time.js";
import { insertCalls, listCallsOf, withdrawCalls } from "../../store/call-store.js";
import type { Queries } from "../../store/database.js";

/**
 * Calls of the change `undone` that nobody has made are withdrawn; who has been called already is to be called back. Of
 * an undo that is itself taken back, the calls that it had withdrawn are to be made again.
 */
export async function undoCalls(
  queries: Queries,
  companyName: string,
  undone: number,
  by: number,
): Promise<void> {
  const made = (await listCallsOf(queries, undone)).filter(({ tickedAt }) => tickedAt !== null);
  await withdrawCalls(queries, undone, by);
  const toDate = (text: string | null) => (text === null ? null : civilDate(text));
  const callBacks = made.map((call) =>
    toCallBack(companyName, {
      ...call,
      dates: call.dates.map(({ what, from, to }) => ({ what, from: toDate(from), to: toDate(to) })),
    }),
  );
  await insertCalls(queries, by, callBacks);
}
