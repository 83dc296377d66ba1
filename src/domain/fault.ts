/**
 * What the checks of a company file have in common: where a fault is, how a value is shown, what an unknown name
 * was probably meant to be. Finished faults, with their path as text, are company-file.ts's.
 */

/** Keys and list positions from the top of the file to the faulty value. */
export type Place = readonly (string | number)[];
/** A fault that still knows its place key by key, so that faults can be put in the file's order. */
export interface PlacedFault {
  readonly at: Place;
  readonly sentence: string;
}
export type Report = (at: Place, sentence: string) => void;

/** `jobs[2].tasks[0].laborHours`; a key that is no plain word is quoted: `trades["tear-off"]`. Empty for the file itself. */
export function toPath(at: Place): string {
  let path = "";
  for (const key of at) {
    if (typeof key === "number") path += `[${key}]`;
    else if (!/^[A-Za-z_]\w*$/.test(key)) path += `[${JSON.stringify(key)}]`;
    else path += path === "" ? key : `.${key}`;
  }
  return path;
}

const LONGEST_SHOWN = 60;

/** The value as it would be written in the file, cut short; a list or an object only by its kind. */
export function shown(value: unknown): string {
  if (value === null || value === undefined) return String(value);
  if (Array.isArray(value)) return value.length === 0 ? "An empty list" : "A list";
  if (typeof value === "object") return "An object";
  if (typeof value === "string") {
    return JSON.stringify(value.length > LONGEST_SHOWN ? `${value.slice(0, LONGEST_SHOWN)}…` : value);
  }
  return typeof value === "number" || typeof value === "boolean" ? String(value) : typeof value;
}

/** `"a", "b" or "c"`. */
export function quotedList(names: readonly string[], joint: "or" | "and"): string {
  const quoted = names.map((name) => JSON.stringify(name));
  const last = quoted.pop();
  if (last === undefined) return "";
  return quoted.length === 0 ? last : `${quoted.join(", ")} ${joint} ${last}`;
}

/** The one of `names` that is at most two slips of the finger away (a third of a short word), or undefined. */
export function findMeant(name: string, names: Iterable<string>): string | undefined {
  let best: string | undefined;
  let bestSlips = Math.min(2, Math.floor(name.length / 3)) + 1;
  for (const candidate of names) {
    const slips = slipsBetween(name.toLowerCase(), candidate.toLowerCase());
    if (slips < bestSlips) [best, bestSlips] = [candidate, slips];
  }
  return best;
}

/** Letters to insert, delete or replace to turn one word into the other (Levenshtein distance). */
function slipsBetween(from: string, to: string): number {
  if (Math.abs(from.length - to.length) > 2) return Infinity;
  let row = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let i = 1; i <= from.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= to.length; j += 1) {
      const replaced = (row[j - 1] ?? 0) + (from[i - 1] === to[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[to.length] ?? Infinity;
}
