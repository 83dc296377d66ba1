/** A pair of clock times, such as a shift or access hours: the second must be later. */
import { isGiven, isReadable, type Draft } from "./draft.js";
import type { Place, Report } from "./fault.js";
import { parseClockTime } from "./time.js";

/** Reports a pair of clock times whose second is not after its first. */
export function checkHours(
  at: Place,
  what: string,
  hours: Draft<readonly [string, string] | null | undefined>,
  report: Report,
): void {
  if (!isGiven(hours)) return;
  const [from, to] = hours;
  if (!isReadable(from) || !isReadable(to)) return;
  const [start, end] = [parseClockTime(from), parseClockTime(to)];
  if (start === undefined || end === undefined || end > start) return;
  report(at, `The ${what} from ${from} to ${to} does not end after it starts. Write the earlier time first.`);
}
