/** A report from site as a form or the phone's queue sends it: read, and every fault told in the crew's language. */
import type { ReturnedReport } from "../board/crew-report-view.js";
import type { ReportWords } from "../board/report-words.js";
import { fail, ok, type Result } from "../domain/result.js";
import { DAY_KINDS, REPORT_KINDS, reportBodySchema, type ReportKind } from "../domain/site-report.js";
import { parseCivilDate } from "../domain/time.js";
import type { ReportInput } from "../services/report-action.js";
import { textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";
import { toOfficeMinute, type OfficeTime } from "./said-time.js";

const UUID = /^[0-9a-f]{8}-(?:[0-9a-f]{4}-){3}[0-9a-f]{12}$/;
/** What ids of a company file look like; anything else is in none. */
const ID = /^[^\p{Cc}/]{1,100}$/u;

/** The fields of each kind that go into what is said. */
const FIELDS = {
  start: ["note"],
  done: ["note"],
  "hours-left": ["hours", "note"],
  stuck: ["reason", "note"],
  damage: ["area", "what", "amount", "unit", "hours", "note"],
  stretch: ["note"],
  "short-handed": ["missing", "note"],
} as const satisfies Record<ReportKind, readonly string[]>;

type FieldName = (typeof FIELDS)[ReportKind][number];
const NUMBERS: ReadonlySet<FieldName> = new Set(["hours", "amount", "missing"]);
/** May be left empty where it is about damage. */
const EMPTY_OF_DAMAGE: ReadonlySet<FieldName> = new Set(["amount", "hours"]);

/** The key of a form, in small letters; empty where it has none. */
export function readReportKey(fields: unknown): string {
  const key = textOf(fields, "key").trim().toLowerCase();
  return UUID.test(key) ? key : "";
}

/** Fails with a sentence for each field that can mean nothing. Whether there is such a task is not asked. */
export function parseReportForm(
  fields: unknown,
  office: OfficeTime,
  words: ReportWords,
): Result<Omit<ReportInput, "crew">, readonly FormFault[]> {
  const faults: FormFault[] = [];
  const refuse = (field: string, sentence: string): void => void faults.push({ field, sentence });
  const key = readReportKey(fields);
  if (key === "") refuse("key", words.faults.key);
  const date = parseCivilDate(textOf(fields, "date"));
  if (date === undefined) refuse("date", words.faults.date);
  const said = textOf(fields, "saidAt").trim();
  const saidMinute = said === "" ? null : toOfficeMinute(said, textOf(fields, "sentAt").trim(), office);
  if (saidMinute === undefined) refuse("saidAt", words.faults.saidAt);
  const kind = REPORT_KINDS.find((known) => known === textOf(fields, "kind"));
  if (kind === undefined) return fail([...faults, { field: "kind", sentence: words.faults.kind }]);

  const [job, task] = [textOf(fields, "job"), textOf(fields, "task")];
  const at = DAY_KINDS.has(kind) ? null : { job, task };
  if (at !== null && !(ID.test(job) && ID.test(task))) refuse("task", words.faults.task);

  const written = FIELDS[kind].map((name) => [name, readField(fields, kind, name)] as const);
  const body = reportBodySchema.safeParse({ kind, ...Object.fromEntries(written) });
  const wrong = new Set(body.success ? [] : body.error.issues.map(({ path }) => path[0]));
  for (const [name] of written) if (wrong.has(name)) refuse(name, words.faults[name]);
  if (kind === "damage" && textOf(fields, "what").trim() === "") refuse("what", words.faults.what);

  if (faults.length > 0 || !body.success || date === undefined || saidMinute === undefined)
    return fail(faults);
  const seen = textOf(fields, "seen");
  return ok({
    key,
    date,
    at,
    body: body.data,
    saidMinute,
    seen: /^\d{1,15}$/.test(seen) ? Number(seen) : null,
  });
}

/** A number where one is meant; what is none stays text, and is refused by the schema. */
function readField(fields: unknown, kind: ReportKind, name: FieldName): string | number | null {
  const text = textOf(fields, name).replaceAll("\r\n", "\n").trim();
  if (!NUMBERS.has(name)) return name === "unit" && text === "" ? "sheets" : text;
  if (text === "") return kind === "damage" && EMPTY_OF_DAMAGE.has(name) ? null : text;
  return /^\d{1,9}(?:[.,]\d{1,4})?$/.test(text) ? Number(text.replace(",", ".")) : text;
}

/** What was typed, for the page that comes back. */
export function toReturned(fields: unknown, faults: readonly FormFault[]): ReturnedReport {
  const names = ["hours", "reason", "area", "what", "amount", "unit", "missing", "note"];
  return {
    kind: textOf(fields, "kind"),
    job: textOf(fields, "job"),
    task: textOf(fields, "task"),
    values: Object.fromEntries(names.map((name) => [name, textOf(fields, name)])),
    faults,
  };
}
