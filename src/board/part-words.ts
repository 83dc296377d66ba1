/**
 * The parts of a company and their fields in the words of the office, whatever the file calls them: for the record and
 * for the comparison of two files. Takes JSON as it was written, which may be of a company that stood long ago.
 */
import type { PartKind } from "../domain/company-parts.js";
import { isSameJson } from "../domain/json-equality.js";
import { civilDate, formatDate, parseCivilDate, parseInstant, civilDateAt } from "../domain/time.js";
import { clock } from "./spoken-time.js";

/** What a house, a crew or a trade is called; the id itself where nobody knows. */
export interface Names {
  readonly zone: string;
  readonly job: (id: string) => string;
  readonly crew: (id: string) => string;
  readonly trade: (id: string) => string;
}

/** A field that differs, in words; an empty text stands for no value. */
export interface ChangedField {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

/** One and many. */
export const KIND_WORDS = {
  company: ["Company", "Company"],
  policy: ["Policy", "Policy"],
  trade: ["Trade", "Trades"],
  crew: ["Crew", "Crews"],
  equipment: ["Equipment", "Equipment"],
  job: ["House", "Houses"],
  task: ["Task", "Tasks"],
  delivery: ["Delivery", "Deliveries"],
  hold: ["Hold", "Holds"],
  published: ["Published plan", "Published plan"],
} as const satisfies Record<PartKind, readonly [one: string, many: string]>;

/** Names out of the lists of a company file. */
export function toNames(source: Readonly<Record<string, unknown>>): Names {
  const index = (list: unknown): ReadonlyMap<string, string> =>
    new Map(listOf(source[String(list)]).map((entry) => [textIn(entry, "id"), nameIn(entry)]));
  const [jobs, crews, trades] = [index("jobs"), index("crews"), index("trades")];
  const zone = textIn(source["company"], "timeZone");
  return {
    zone: zone === "" ? "UTC" : zone,
    job: (id) => jobs.get(id) ?? id,
    crew: (id) => crews.get(id) ?? id,
    trade: (id) => trades.get(id) ?? id,
  };
}

/** "Side the front, 12 Harbor Road": what people call a part, without its kind; empty where there is one only. */
export function namePart(kind: PartKind, id: string, body: unknown, names: Names): string {
  if (kind === "company" || kind === "policy" || kind === "published") return "";
  const own = nameIn(body) || id.slice(id.indexOf("/") + 1);
  if (kind !== "task" && kind !== "delivery") return own;
  return `${own}, ${names.job(id.slice(0, id.indexOf("/")))}`;
}

/** The fields in which two states of a part differ, in the order in which they were written. */
export function listChangedFields(before: unknown, after: unknown, names: Names): readonly ChangedField[] {
  return compare([], before, after, names);
}

function compare(path: readonly string[], before: unknown, after: unknown, names: Names): ChangedField[] {
  if (isSameJson(before, after)) return [];
  if (isFields(before) && isFields(after)) {
    const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    return keys.flatMap((key) => compare([...path, key], before[key], after[key], names));
  }
  const name = path.map((key, depth) => fieldName(key, depth > 0)).join(": ");
  const field = path.at(-1) ?? "";
  if (isListOfFields(before) || isListOfFields(after)) {
    // Only the entries that went and those that came.
    const [old, now] = [listOf(before), listOf(after)];
    const without = (list: readonly unknown[], others: readonly unknown[]): unknown[] =>
      list.filter((entry) => !others.some((other) => isSameJson(entry, other)));
    const [gone, come] = [without(old, now), without(now, old)];
    if (gone.length === 0 && come.length === 0)
      return [{ name, before: "another order", after: "this order" }];
    return [{ name, before: wordValue(field, gone, names), after: wordValue(field, come, names) }];
  }
  return [{ name, before: wordValue(field, before, names), after: wordValue(field, after, names) }];
}

const MOST_CHARACTERS = 300;

function wordValue(field: string, value: unknown, names: Names): string {
  const words = wordWhole(field, value, names);
  return words.length <= MOST_CHARACTERS ? words : `${words.slice(0, MOST_CHARACTERS)}…`;
}

function wordWhole(field: string, value: unknown, names: Names): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return value.toLocaleString("en-US", { maximumFractionDigits: 6 });
  if (typeof value === "string") return wordText(field, value, names);
  if (Array.isArray(value)) {
    const separator = value.some(isFields) ? "; " : ", ";
    return value.map((entry) => wordWhole(field, entry, names)).join(separator);
  }
  if (isFields(value)) return wordEntry(field, value, names);
  return "";
}

/** Days off and the like as a line; anything else field by field. */
function wordEntry(field: string, entry: Fields, names: Names): string {
  const { from, to, why, ...rest } = entry;
  if (field === "off" && Object.keys(rest).length === 0) {
    const days = [...new Set([from, to])].map((day) => wordWhole("from", day, names)).join(" to ");
    const reason = wordWhole("why", why, names);
    return reason === "" ? days : `${days} (${reason})`;
  }
  return Object.entries(entry)
    .map(([key, value]) => `${fieldName(key, true)} ${wordWhole(key, value, names)}`)
    .join(", ");
}

function wordText(field: string, text: string, names: Names): string {
  const named = NAMED_FIELDS[field];
  if (named !== undefined) return WORDS_OF_VALUES[text] ?? names[named](text);
  const date = parseCivilDate(text);
  if (date !== undefined) return formatDate(date, "ccc d LLL y", "en-US");
  if (/^\d{4}-\d{2}-\d{2}T/.test(text)) {
    const minute = parseInstant(text, names.zone);
    if (minute !== undefined) {
      const day = formatDate(civilDate(civilDateAt(minute, names.zone)), "ccc d LLL y", "en-US");
      return `${day}, ${clock(minute, names.zone, "en")}`;
    }
  }
  return WORDS_OF_VALUES[text] ?? text;
}

const NAMED_FIELDS: Readonly<Record<string, "job" | "crew" | "trade">> = {
  jobs: "job",
  job: "job",
  crew: "crew",
  doneBy: "crew",
  trade: "trade",
  trades: "trade",
};

const WORDS_OF_VALUES: Readonly<Record<string, string>> = {
  "to-do": "to do",
  "under-way": "under way",
  outdoor: "outdoor work",
  all: "all",
  hand: "by hand",
  forecast: "from the forecast",
};

const FIELD_NAMES: Readonly<Record<string, string>> = {
  promised: "Promised date",
  leftHours: "Hours left",
  laborHours: "Labor-hours",
  startedAt: "Start",
  finishedAt: "Finish",
  doneBy: "Crew",
  crew: "Wanted crew",
  off: "Days off",
  extra: "Extra shifts",
  jobs: "Houses",
  why: "Reason",
  source: "Entered",
  what: "What",
  lat: "Latitude",
  lon: "Longitude",
};

/** "waitBusinessDays" → "Wait business days". */
function fieldName(key: string, isWithin: boolean): string {
  const known = FIELD_NAMES[key];
  const spaced = known ?? key.replaceAll(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();
  return isWithin ? spaced.toLowerCase() : spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

type Fields = Readonly<Record<string, unknown>>;

function isFields(value: unknown): value is Fields {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isListOfFields(value: unknown): boolean {
  return Array.isArray(value) && value.some(isFields);
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function textIn(value: unknown, field: string): string {
  const text = isFields(value) ? value[field] : undefined;
  return typeof text === "string" ? text : "";
}

/** What an entry of a company file calls itself. */
function nameIn(body: unknown): string {
  const name = isFields(body) ? (body["name"] ?? body["title"] ?? body["what"] ?? body["why"]) : "";
  return isFields(name) ? textIn(name, "en") : typeof name === "string" ? name : "";
}
