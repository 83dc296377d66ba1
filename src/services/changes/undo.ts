/**
 * Taking a change back: every part that it wrote becomes what it was before, if it still is what the change made of it
 * and the company without the change has no fault.
 */
import { formatFault, parseCompany } from "../../domain/company-file.js";
import { toSource, type Part, type Source } from "../../domain/company-parts.js";
import { COMPANY_FORMAT } from "../../domain/company-schema.js";
import { isSameJson } from "../../domain/json-equality.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { StoredCompany } from "../../store/company-store.js";
import type { Queries } from "../../store/database.js";
import { applyStates, findChange, keysOf, listTouching } from "../../store/record-store.js";
import type { ChangeFailure } from "./company-change.js";

/** The company without a change, and the sentence for the record; or why it stays. */
export async function decideUndo(
  stored: StoredCompany,
  version: number,
  queries: Queries,
): Promise<Result<{ readonly source: Source; readonly sentence: string }, ChangeFailure>> {
  const change = await findChange(queries, version);
  if (change === undefined) return refuse("no-such-change", `There is no change ${version} on record.`);
  if (change.undoneBy !== null) {
    return refuse("already-undone", "This change has already been taken back, so nothing was done.");
  }
  const parts = new Map<string, Part>(stored.parts);
  const isAsMade = Object.entries(change.after).every(([key, state]) =>
    isSameJson(parts.get(key)?.body, state?.body),
  );
  if (!isAsMade) {
    const later = await listTouching(queries, keysOf(change), version);
    const named = later.findLast(({ undoneBy, undoes }) => undoneBy === null && undoes === null);
    return refuse(
      "depended-on",
      "This change cannot be taken back: what it wrote has been changed since" +
        (named === undefined ? "." : ` (by ${named.personName}: ${named.sentence}) Take that back first.`),
    );
  }
  applyStates(parts, change.before);
  const source = toSource(parts.values(), COMPANY_FORMAT);
  if (source === undefined) {
    return refuse("first-load", "The first company file cannot be taken back. Load another one instead.");
  }
  const parsed = parseCompany(source);
  if (!parsed.ok) {
    const faults = parsed.error.map(formatFault).join(" ");
    return refuse(
      "depended-on",
      `This change cannot be taken back, because something later depends on it: ${faults}`,
    );
  }
  return ok({ source, sentence: `Taken back: ${change.sentence}` });
}

function refuse(kind: string, sentence: string): Result<never, ChangeFailure> {
  return fail({ kind: "refused", refusal: { kind, sentence } });
}
