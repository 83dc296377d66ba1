/** Holds added to and lifted from a company. Pure: what stands and a change give new JSON. */
import type { PartKey, Source } from "../../domain/company-parts.js";
import type { Company, Hold } from "../../domain/company-schema.js";
import { fail, ok } from "../../domain/result.js";
import type { HoldInput } from "../desk.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";

export interface HoldAdded extends ChangeBase {
  readonly kind: "hold-added";
  readonly input: HoldInput;
}

export interface HoldLifted extends ChangeBase {
  readonly kind: "hold-lifted";
  readonly id: string;
}

export const holdAddedRule: ChangeRule<HoldAdded> = {
  target: () => undefined,
  apply: ({ source, company }, { input }) => {
    const { from, to, trades, jobs, why } = input;
    const hold = { id: makeHoldId(company), from, to, trades, jobs, why, source: "hand" };
    return ok({ ...source, holds: [...listHolds(source), hold] });
  },
  say: (_company, { input }) => `Hold added from ${input.from} to ${input.to}${toReason(input.why)}.`,
};

export const holdLiftedRule: ChangeRule<HoldLifted> = {
  target: ({ id }): PartKey => `hold/${id}`,
  apply: ({ source, company }, { id }) => {
    if (findHold(company, id) === undefined) {
      const sentence = `There is no hold "${id}". It may have been lifted already; look at the list of holds.`;
      return fail({ kind: "no-such-hold", sentence });
    }
    return ok({ ...source, holds: listHolds(source).filter((hold) => !hasId(hold, id)) });
  },
  say: (company, { id }) => {
    const hold = findHold(company, id);
    return hold === undefined
      ? `Hold ${id} lifted.`
      : `Hold lifted that ran from ${hold.from} to ${hold.to}${toReason(hold.why)}.`;
  },
};

/** `hold-` and the number after the highest one in use, so that an old id does not come back for another hold. */
function makeHoldId(company: Company): string {
  const numbers = company.holds.map((hold) => Number(/^hold-(\d{1,9})$/.exec(hold.id)?.[1] ?? 0));
  return `hold-${Math.max(0, ...numbers) + 1}`;
}

function findHold(company: Company, id: string): Hold | undefined {
  return company.holds.find((hold) => hold.id === id);
}

function toReason(why: string): string {
  return why === "" ? "" : `: ${why}`;
}

function listHolds(source: Source): readonly unknown[] {
  return Array.isArray(source["holds"]) ? source["holds"] : [];
}

function hasId(hold: unknown, id: string): boolean {
  return typeof hold === "object" && hold !== null && "id" in hold && hold.id === id;
}
