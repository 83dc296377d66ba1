/**
 * What the changes of a company have in common where they do not happen: faults of what was typed, and sense checks on
 * dates that the company file itself would allow.
 */
import type { Fault } from "../../domain/company-file.js";
import { fail } from "../../domain/result.js";
import { daysBetween, parseCivilDate, type CivilDate } from "../../domain/time.js";
import { longDate } from "../../board/spoken-time.js";
import type { NotDone } from "./company-change.js";

type Failed = { readonly ok: false; readonly error: NotDone };

/** Understood, and not possible as things stand. */
export function refuse(kind: string, sentence: string): Failed {
  return fail({ kind: "refused", refusal: { kind, sentence } });
}

/** Something in the form is wrong; the paths end with the name of the field. */
export function refuseFields(faults: readonly Fault[]): Failed {
  return fail({ kind: "faults", faults });
}

/** What was sent is what stands. */
export const NOTHING_DIFFERS: Failed = refuseFields([
  { path: "", sentence: "This is as it stands already, so there was nothing to change." },
]);

/** Later than this from today is taken for a slip of the finger in the year. */
const MOST_DAYS_AHEAD = 3 * 366;

/** Why a date cannot be meant, though it is one; undefined where it can, or where it is for the schema to refuse. */
export function findFarDate(text: string, today: CivilDate): string | undefined {
  const date = parseCivilDate(text);
  if (date === undefined || daysBetween(today, date) <= MOST_DAYS_AHEAD) return undefined;
  return `${longDate(date, "en")} ${date.slice(0, 4)} is more than three years away. Look at the year.`;
}

/** The same for a date that a plan can still do something about. */
export function findPastDate(text: string, today: CivilDate): string | undefined {
  const date = parseCivilDate(text);
  if (date === undefined || date >= today) return undefined;
  return `${longDate(date, "en")} ${date.slice(0, 4)} has gone by. Write a date from ${longDate(today, "en")} on.`;
}

/** The faults of fields, without those that have none. */
export function listFaults(
  found: readonly (readonly [path: string, sentence: string | undefined])[],
): readonly Fault[] {
  return found.flatMap(([path, sentence]) => (sentence === undefined ? [] : [{ path, sentence }]));
}
