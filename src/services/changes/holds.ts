/** Holds added to, changed in and lifted from a company. Pure: what stands and a change give new JSON. */
import { buildHoldView } from "../../board/hold-view.js";
import type { PartKey } from "../../domain/company-parts.js";
import type { Company, Hold } from "../../domain/company-schema.js";
import type { Fault } from "../../domain/company-file.js";
import { isSameJson } from "../../domain/json-equality.js";
import { ok } from "../../domain/result.js";
import { civilDateAt, parseInstant } from "../../domain/time.js";
import type { HoldInput } from "../desk.js";
import type { ChangeBase, ChangeRule, CompanyDocument } from "./company-change.js";
import { findFarDate, listFaults, NOTHING_DIFFERS, refuse, refuseFields } from "./change-refusals.js";
import { listFromTo } from "./from-to.js";
import { editEntry, editFields, entriesIn, hasId } from "./source-edit.js";

export interface HoldAdded extends ChangeBase {
  readonly kind: "hold-added";
  readonly input: HoldInput;
}

export interface HoldChanged extends ChangeBase {
  readonly kind: "hold-changed";
  readonly id: string;
  readonly input: HoldInput;
}

export interface HoldLifted extends ChangeBase {
  readonly kind: "hold-lifted";
  readonly id: string;
}

export const holdAddedRule: ChangeRule<HoldAdded> = {
  target: () => undefined,
  apply: (document, { input }) => {
    const { source, company } = document;
    const faults = listTimeFaults(document, input, `holds[${company.holds.length}]`);
    if (faults.length > 0) return refuseFields(faults);
    const { from, to, trades, jobs, why } = input;
    const hold = { id: makeHoldId(company), from, to, trades, jobs, why, source: "hand" };
    return ok({ ...source, holds: [...entriesIn(source["holds"]), hold] });
  },
  say: (company, { input }) => `Hold added: ${describe(company, toHold("", input))}.`,
};

export const holdChangedRule: ChangeRule<HoldChanged> = {
  target: ({ id }): PartKey => `hold/${id}`,
  apply: (document, { id, input }) => {
    const { source, company } = document;
    const hold = findHold(company, id);
    if (hold === undefined) return refuseUnknown(id);
    const written = keepWriting(company, hold, input);
    const edit = Object.fromEntries(
      Object.entries(written).filter(([field, value]) => !isSameJson(value, hold[field as keyof HoldInput])),
    );
    if (Object.keys(edit).length === 0) return NOTHING_DIFFERS;
    const faults = listTimeFaults(document, written, `holds[${company.holds.indexOf(hold)}]`);
    if (faults.length > 0 && ("from" in edit || "to" in edit)) return refuseFields(faults);
    // What a person has settled is no longer only what the forecast proposed.
    return ok(editEntry(source, "holds", id, (body) => editFields(body, { ...edit, source: "hand" })));
  },
  say: (company, { id, input }) => {
    const hold = findHold(company, id);
    if (hold === undefined) return `Hold ${id} changed.`;
    const before = buildHoldView(company, hold, false);
    const after = buildHoldView(company, toHold(id, keepWriting(company, hold, input)), false);
    const changes = listFromTo([
      ["time", before.when, after.when],
      ["work", before.trades, after.trades],
      ["houses", before.jobs, after.jobs],
      ["reason", before.why, after.why],
    ]);
    const name = hold.why === "" ? `of ${before.when}` : `"${hold.why}"`;
    return `Hold ${name} changed: ${changes}.`;
  },
};

export const holdLiftedRule: ChangeRule<HoldLifted> = {
  target: ({ id }): PartKey => `hold/${id}`,
  apply: ({ source, company }, { id }) => {
    if (findHold(company, id) === undefined) return refuseUnknown(id);
    return ok({ ...source, holds: entriesIn(source["holds"]).filter((hold) => !hasId(hold, id)) });
  },
  say: (company, { id }) => {
    const hold = findHold(company, id);
    return hold === undefined ? `Hold ${id} lifted.` : `Hold lifted: ${describe(company, hold)}.`;
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

function refuseUnknown(id: string) {
  return refuse(
    "no-such-hold",
    `There is no hold "${id}". It may have been lifted already; look at the list of holds.`,
  );
}

/** Times that are past or years away hold nothing that anybody plans; whether they are times is for the schema. */
function listTimeFaults(
  { company, nowMinute }: CompanyDocument,
  hold: HoldInput,
  path: string,
): readonly Fault[] {
  const zone = company.company.timeZone;
  const today = civilDateAt(nowMinute, zone);
  const end = parseInstant(hold.to, zone);
  const start = parseInstant(hold.from, zone);
  const isOver = start !== undefined && end !== undefined && start < end && end <= nowMinute;
  return listFaults([
    [`${path}.from`, findFarDate(hold.from.slice(0, 10), today)],
    [
      `${path}.to`,
      isOver
        ? "This hold would be over already, and hold nothing. Write a later end."
        : findFarDate(hold.to.slice(0, 10), today),
    ],
  ]);
}

/** A time that was not changed stays as it was written, with or without its offset. */
function keepWriting(company: Company, hold: Hold, input: HoldInput): HoldInput {
  const zone = company.company.timeZone;
  const keep = (typed: string, stood: string): string =>
    parseInstant(typed, zone) === parseInstant(stood, zone) ? stood : typed;
  return { ...input, from: keep(input.from, hold.from), to: keep(input.to, hold.to) };
}

function toHold(id: string, input: HoldInput): Hold {
  return { id, ...input, source: "hand" };
}

/** "Wed 9 Dec, all day, outdoor work at every house: rain". */
function describe(company: Company, hold: Hold): string {
  const { when, trades, jobs } = buildHoldView(company, hold, false);
  return `${when}, ${trades} at ${jobs}${hold.why === "" ? "" : `: ${hold.why}`}`;
}
