/**
 * Holds added to and lifted from a company file's JSON. Pure: old JSON and a change give new JSON.
 * Whether the result is a sound company file is for the parser to say.
 */
import type { Company } from "../domain/company-schema.js";
import type { HoldInput } from "./desk.js";

type Source = Readonly<Record<string, unknown>>;

/** The JSON with one more hold at the end; its id is new among the holds of `company`, which the JSON stands for. */
export function applyHoldAdded(source: Source, company: Company, input: HoldInput): Source {
  const { from, to, trades, jobs, why } = input;
  const hold = { id: makeHoldId(company), from, to, trades, jobs, why, source: "hand" };
  return { ...source, holds: [...listHolds(source), hold] };
}

/** The JSON without the hold of that id. */
export function applyHoldLifted(source: Source, id: string): Source {
  return { ...source, holds: listHolds(source).filter((hold) => !hasId(hold, id)) };
}

/** `hold-` and the number after the highest one in use, so that an old id does not come back for another hold. */
function makeHoldId(company: Company): string {
  const numbers = company.holds.map((hold) => Number(/^hold-(\d{1,9})$/.exec(hold.id)?.[1] ?? 0));
  return `hold-${Math.max(0, ...numbers) + 1}`;
}

function listHolds(source: Source): readonly unknown[] {
  return Array.isArray(source["holds"]) ? source["holds"] : [];
}

function hasId(hold: unknown, id: string): boolean {
  return typeof hold === "object" && hold !== null && "id" in hold && hold.id === id;
}
