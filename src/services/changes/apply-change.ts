/** A change made to a company in memory: the JSON after it and the sentence for the record, or why it is not made. */
import { remarkSchema, type Company } from "../../domain/company-schema.js";
import { parseCompany } from "../../domain/company-file.js";
import type { Source } from "../../domain/company-parts.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { refuseFields } from "./change-refusals.js";
import { ruleOf, type CompanyChange, type CompanyDocument, type NotDone } from "./company-change.js";

export interface AppliedChange {
  /** A company file without a fault. */
  readonly source: Source;
  readonly company: Company;
  readonly sentence: string;
}

/** Whether what a change would write is sound is checked here, as a whole. */
export function applyChange(
  document: CompanyDocument,
  change: CompanyChange,
): Result<AppliedChange, NotDone> {
  const sentence = findWhyFault(change.why ?? "");
  if (sentence !== undefined) return refuseFields([{ path: "reason", sentence }]);
  const rule = ruleOf(change);
  const source = rule.apply(document, change);
  if (!source.ok) return source;
  const parsed = parseCompany(source.value);
  if (!parsed.ok) return fail({ kind: "faults", faults: parsed.error });
  return ok({ source: source.value, company: parsed.value, sentence: rule.say(document.company, change) });
}

/** What is wrong with the reason for a change; undefined where nothing is. */
export function findWhyFault(why: string): string | undefined {
  const parsed = remarkSchema.safeParse(why);
  return parsed.success ? undefined : `The reason ${parsed.error.issues[0]?.message ?? "cannot be kept"}.`;
}
