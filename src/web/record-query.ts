/**
 * What of the record somebody wants to see, as the form on its page sends it in the address. An address may say anything:
 * what is no date is told, and what nobody ever chose from the lists filters nothing out.
 */
import type { Company } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import { addDays, dayStart, parseCivilDate, type CivilDate } from "../domain/time.js";
import type { RecordFilter } from "../store/record-store.js";
import type { FormFault } from "./form-faults.js";

/** What stands in the fields; empty where nothing is chosen. */
export interface RecordQuery {
  readonly person: string;
  readonly kind: string;
  /** `job/harbor-12`, `crew/alder`, … */
  readonly thing: string;
  readonly from: string;
  readonly to: string;
  /** Only changes before this version: the next page. */
  readonly before: string;
}

const FIELDS = [
  "person",
  "kind",
  "thing",
  "from",
  "to",
  "before",
] as const satisfies readonly (keyof RecordQuery)[];

/** A query string as express or the browser's own class has read it. */
export function readRecordQuery(query: Readonly<Record<string, unknown>> | URLSearchParams): RecordQuery {
  const get = (name: string): string => {
    const value = query instanceof URLSearchParams ? query.get(name) : query[name];
    return typeof value === "string" ? value.slice(0, 200) : "";
  };
  return {
    person: get("person"),
    kind: get("kind"),
    thing: get("thing"),
    from: get("from"),
    to: get("to"),
    before: get("before"),
  };
}

/** For an address: what is chosen. */
export function toQuery(query: RecordQuery): Readonly<Record<string, string>> {
  return Object.fromEntries(FIELDS.filter((name) => query[name] !== "").map((name) => [name, query[name]]));
}

/** The filter, with dates by the company's calendar; `to` is its last day. */
export function parseRecordQuery(
  query: RecordQuery,
  company: Company,
): Result<Omit<RecordFilter, "limit">, readonly FormFault[]> {
  const zone = company.company.timeZone;
  const [from, to] = [parseDate(query.from), parseDate(query.to)];
  const faults: FormFault[] = [];
  for (const [field, date] of [["from", from] as const, ["to", to] as const]) {
    if (date === null)
      faults.push({ field, sentence: "This is no date. Write it as year-month-day, or leave it empty." });
  }
  if (from && to && to < from) {
    faults.push({
      field: "to",
      sentence: `The last day, ${to}, is before the first, ${from}. Exchange the two.`,
    });
  }
  if (faults.length > 0) return fail(faults);
  const touching = toTouching(query.thing);
  const before = /^\d{1,15}$/.test(query.before) ? Number(query.before) : undefined;
  return ok({
    // A name or a kind that PostgreSQL could not even be asked for is in no record.
    ...(query.person !== "" && { personName: query.person.replaceAll("\u0000", "") }),
    ...(query.kind !== "" && { kind: query.kind.replaceAll("\u0000", "") }),
    ...(touching !== undefined && { touching }),
    ...(before !== undefined && { before }),
    ...(from && { from: startOf(from, zone) }),
    ...(to && { to: startOf(addDays(to, 1), zone) }),
  });
}

/** What a filter can be about: houses (with their tasks and deliveries), crews, and holds that stand. */
export function listThings(
  company: Company,
): readonly { readonly group: string; readonly things: readonly Thing[] }[] {
  return [
    { group: "Houses", things: company.jobs.map(({ id, name }) => ({ key: `job/${id}`, name })) },
    { group: "Crews", things: company.crews.map(({ id, name }) => ({ key: `crew/${id}`, name })) },
    {
      group: "Holds",
      things: company.holds.map(({ id, why }) => ({ key: `hold/${id}`, name: why === "" ? id : why })),
    },
  ].filter(({ things }) => things.length > 0);
}

export interface Thing {
  readonly key: string;
  readonly name: string;
}

/** The keys of the parts that belong to a thing. */
function toTouching(thing: string): readonly string[] | undefined {
  const [, kind, id] = /^(job|crew|hold)\/([A-Za-z0-9_.-]{1,64})$/.exec(thing) ?? [];
  if (kind === undefined || id === undefined) return undefined;
  return kind === "job" ? [thing, `task/${id}/`, `delivery/${id}/`] : [thing];
}

/** Undefined for nothing, null for what is no date of a year that there are clocks for. */
function parseDate(text: string): CivilDate | null | undefined {
  if (text === "") return undefined;
  const date = parseCivilDate(text);
  return date !== undefined && date >= "1970" && date < "2200" ? date : null;
}

function startOf(date: CivilDate, zone: string): Date {
  return new Date(dayStart(date, zone) * 60_000);
}
