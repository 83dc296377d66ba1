/** Days on which a crew does not work, added and taken away. An entry has no id: it is named by what it says. */
import { shortDate } from "../../board/spoken-time.js";
import type { PartKey } from "../../domain/company-parts.js";
import type { Crew } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { civilDate, civilDateAt, parseCivilDate } from "../../domain/time.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { findFarDate, findPastDate, listFaults, refuse, refuseFields } from "./change-refusals.js";
import { editEntry, editFields, entriesIn } from "./source-edit.js";

/** An entry of `off` as a person enters it. */
export interface DayOffInput {
  /** YYYY-MM-DD, the first day. */
  readonly from: string;
  /** YYYY-MM-DD, the last day. */
  readonly to: string;
  readonly why: string;
}

export interface DayOffAdded extends ChangeBase {
  readonly kind: "day-off-added";
  readonly crew: string;
  readonly input: DayOffInput;
}

export interface DayOffRemoved extends ChangeBase {
  readonly kind: "day-off-removed";
  readonly crew: string;
  readonly input: DayOffInput;
}

export const dayOffAddedRule: ChangeRule<DayOffAdded> = {
  target: ({ crew }): PartKey => `crew/${crew}`,
  apply: ({ source, company, nowMinute }, { crew: id, input }) => {
    const index = company.crews.findIndex((crew) => crew.id === id);
    const crew = company.crews[index];
    if (crew === undefined) return refuseUnknown(id);
    const today = civilDateAt(nowMinute, company.company.timeZone);
    const path = `crews[${index}].off[${crew.off.length}]`;
    const isOff = crew.off.some(
      ({ from, to }) => from <= input.from && input.to <= to && input.from <= input.to,
    );
    const faults = listFaults([
      [`${path}.from`, isOff ? `${crew.name} is off then already.` : findFarDate(input.from, today)],
      [`${path}.to`, findPastDate(input.to, today) ?? findFarDate(input.to, today)],
    ]);
    if (faults.length > 0) return refuseFields(faults);
    const { from, to, why } = input;
    const entry = { from, to, ...(why !== "" && { why }) };
    return ok(
      editEntry(source, "crews", id, (body) => editFields(body, { off: [...entriesIn(body["off"]), entry] })),
    );
  },
  say: (company, { crew, input }) => `${nameOf(company.crews, crew)} is off ${spoken(input)}.`,
};

export const dayOffRemovedRule: ChangeRule<DayOffRemoved> = {
  target: ({ crew }): PartKey => `crew/${crew}`,
  apply: ({ source, company }, { crew: id, input }) => {
    const crew = company.crews.find((candidate) => candidate.id === id);
    if (crew === undefined) return refuseUnknown(id);
    const index = crew.off.findIndex(
      ({ from, to, why }) => from === input.from && to === input.to && toLines(why) === toLines(input.why),
    );
    if (index === -1) {
      return refuse(
        "no-such-day-off",
        `${crew.name} has no such days off. They may have been taken away already.`,
      );
    }
    return ok(
      editEntry(source, "crews", id, (body) => {
        const left = entriesIn(body["off"]).filter((_entry, nth) => nth !== index);
        return editFields(body, { off: left.length === 0 ? undefined : left });
      }),
    );
  },
  say: (company, { crew, input }) =>
    `Days off of ${nameOf(company.crews, crew)} taken away: ${spoken(input)}.`,
};

/** A form sends the ends of lines in another writing. */
function toLines(text: string): string {
  return text.replaceAll(/\r\n?/g, "\n");
}

function refuseUnknown(id: string) {
  return refuse("no-such-crew", `There is no crew "${id}" any more.`);
}

function nameOf(crews: readonly Crew[], id: string): string {
  return crews.find((crew) => crew.id === id)?.name ?? id;
}

/** "Tue 8 Dec to Thu 10 Dec: wedding". */
function spoken({ from, to, why }: DayOffInput): string {
  const days = from === to ? day(from) : `${day(from)} to ${day(to)}`;
  return why === "" ? days : `${days}: ${why}`;
}

function day(date: string): string {
  return parseCivilDate(date) === undefined ? date : shortDate(civilDate(date), "en");
}
