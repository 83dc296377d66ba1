/**
 * The option `--as-of`: the moment that a plan is made for. ISO 8601, with an offset or by the company's wall clock.
 */
import { fail, ok, type Result } from "../domain/result.js";
import { parseInstant, type Minute } from "../domain/time.js";
import type { Words } from "./command-line.js";

/** The minute that is asked for, or undefined where the option is not given. */
export function parseAsOf(words: Words, zone: string): Result<Minute | undefined, string> {
  const text = words.values.get("as-of");
  if (text === undefined) return ok(undefined);
  const minute = parseInstant(text, zone);
  if (minute !== undefined) return ok(minute);
  return fail(
    `The option --as-of is "${text}", which is no time. Write ISO 8601, such as 2026-12-07T18:00 ` +
      `(by the clock of ${zone}) or 2026-12-07T18:00-05:00.`,
  );
}
