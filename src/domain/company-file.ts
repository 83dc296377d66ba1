/**
 * The door for company files: unknown in, a company or every fault at once out. Nothing is half loaded.
 * What the shape is stands in company-schema.ts, what ties the parts together in cross-checks.ts.
 */
import { isBackupText } from "./backup-format.js";
import { companySchema, type Company } from "./company-schema.js";
import { listCrossFaults } from "./cross-checks.js";
import { isReadable, toDraft } from "./draft.js";
import { toPath, type PlacedFault } from "./fault.js";
import { findTextFault } from "./json-text.js";
import { fail, ok, type Result } from "./result.js";
import { listShapeFaults } from "./schema-sentences.js";

/** One thing that is wrong with a file. */
export interface Fault {
  /** `jobs[2].tasks[0].laborHours`; empty where the file as a whole is meant. */
  readonly path: string;
  /** What is wrong, the value, the limit, what to do. Does not repeat the path. */
  readonly sentence: string;
}

/** The company that `input` describes, defaults filled in, or every fault in the order of the file. */
export function parseCompany(input: unknown): Result<Company, readonly Fault[]> {
  const parsed = companySchema.safeParse(input);
  const shapeFaults = parsed.success ? [] : listShapeFaults(input, parsed.error.issues);
  const draft = parsed.success ? parsed.data : toDraft(companySchema, input);
  const faults = [...shapeFaults, ...(isReadable(draft) ? listCrossFaults(draft) : [])];
  if (parsed.success && faults.length === 0) return ok(parsed.data);
  return fail(inFileOrder(faults).map(({ at, sentence }) => ({ path: toPath(at), sentence })));
}

/** The same from the text of a file. Text that is no JSON has one fault, with its line and column. */
export function parseCompanyText(text: string): Result<Company, readonly Fault[]> {
  if (isBackupText(text)) return fail([{ path: "", sentence: IS_BACKUP }]);
  const json = text.startsWith("\uFEFF") ? text.slice(1) : text;
  const sentence = findTextFault(json);
  if (sentence !== undefined) return fail([{ path: "", sentence }]);
  return parseCompany(JSON.parse(json));
}

const IS_BACKUP =
  "This is a backup and no company file. `daylap restore` puts it into an empty folder or database.";

/** One line for people: the path, where there is one, and the sentence. */
export function formatFault(fault: Fault): string {
  return fault.path === "" ? fault.sentence : `${fault.path}: ${fault.sentence}`;
}

const PARTS: readonly (string | number)[] = Object.keys(companySchema.shape);

/** Top-level parts in the schema's order, lists by position, and within one object the order of the checks. */
function inFileOrder(faults: readonly PlacedFault[], depth = 0): PlacedFault[] {
  const here = faults.filter(({ at }) => at.length === depth);
  const below = new Map<string | number, PlacedFault[]>();
  for (const fault of faults) {
    const key = fault.at[depth];
    if (key !== undefined) below.set(key, [...(below.get(key) ?? []), fault]);
  }
  const keys = [...below.keys()].sort((left, right) => rankOf(left, depth) - rankOf(right, depth));
  return [...here, ...keys.flatMap((key) => inFileOrder(below.get(key) ?? [], depth + 1))];
}

function rankOf(key: string | number, depth: number): number {
  if (typeof key === "number") return key;
  return depth === 0 ? PARTS.indexOf(key) : 0;
}
