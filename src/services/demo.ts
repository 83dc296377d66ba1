/**
 * The demo company: seed/company.json, whose dates are written relative to the day on which it is loaded.
 * A relative date is `@` and then one of: `+3` or `-3` (calendar days from the load date), `work+2` or `work-2` (the
 * second Monday-to-Friday date after or before it), `wed` (the first Wednesday after it), `wed+7` (a week later);
 * and, where a time is meant, `T07:30` behind it. `@catalogue` stands for the trades that a new company
 * starts with. Everything else in the file is as in any company file.
 */
import { readFile } from "node:fs/promises";
import { invariant, present } from "../domain/result.js";
import { addDays, WEEKDAYS, weekdayOf, type CivilDate, type Weekday } from "../domain/time.js";
import { tradeCatalogue } from "../domain/trade-catalogue.js";

/** The demo company with its dates still relative. */
export interface DemoTemplate {
  /** The company's zone, by whose calendar the load date is meant. */
  readonly timeZone: string;
  readonly source: unknown;
}

/** The seed folder lies beside src and beside dist. */
const SEED = new URL("../../seed/company.json", import.meta.url);

export async function readDemoTemplate(): Promise<DemoTemplate> {
  const source: unknown = JSON.parse(await readFile(SEED, "utf8"));
  return { timeZone: zoneOf(source), source };
}

/** The JSON of the demo company as loaded on a date: a company file, still to be parsed like any other. */
export function layDemo(template: DemoTemplate, loadDate: CivilDate): unknown {
  return layDates(template.source, loadDate);
}

function layDates(value: unknown, loadDate: CivilDate): unknown {
  if (value === "@catalogue") return tradeCatalogue;
  if (typeof value === "string") return value.startsWith("@") ? layDate(value, loadDate) : value;
  if (Array.isArray(value)) return value.map((item) => layDates(item, loadDate));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, layDates(item, loadDate)]));
}

/** One relative date, with its time where it has one, as the text that a company file holds. */
export function layDate(text: string, loadDate: CivilDate): string {
  const match = /^@(work|mon|tue|wed|thu|fri|sat|sun)?([+-]\d{1,3})?(T\d{2}:\d{2})?$/.exec(text);
  invariant(match !== null && text !== "@", `"${text}" in the demo company is no relative date`);
  const [, anchor, offset = "0", time = ""] = match;
  const days = Number(offset);
  if (anchor === "work") return addWorkDays(loadDate, days) + time;
  const from = anchor === undefined ? loadDate : nextWeekday(loadDate, weekday(anchor));
  return addDays(from, days) + time;
}

function weekday(text: string): Weekday {
  return present(
    WEEKDAYS.find((day) => day === text),
    `the weekday "${text}"`,
  );
}

function nextWeekday(after: CivilDate, day: Weekday): CivilDate {
  const steps = WEEKDAYS.indexOf(day) - WEEKDAYS.indexOf(weekdayOf(after));
  return addDays(after, steps > 0 ? steps : steps + 7);
}

function addWorkDays(from: CivilDate, days: number): CivilDate {
  const step = Math.sign(days);
  let date = from;
  for (let left = Math.abs(days); left > 0;) {
    date = addDays(date, step);
    if (!isWeekend(date)) left -= 1;
  }
  return date;
}

function isWeekend(date: CivilDate): boolean {
  const day = weekdayOf(date);
  return day === "sat" || day === "sun";
}

function zoneOf(source: unknown): string {
  const company = fieldOf(source, "company");
  const zone = fieldOf(company, "timeZone");
  invariant(typeof zone === "string", "the demo company names its time zone");
  return zone;
}

function fieldOf(value: unknown, key: string): unknown {
  invariant(typeof value === "object" && value !== null, `the demo company holds "${key}" in an object`);
  return new Map<string, unknown>(Object.entries(value)).get(key);
}
