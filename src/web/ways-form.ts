/**
 * What the page of ways out is asked for: the slip, what the dispatcher allows, and what she wishes. All of it stands in the
 * address, so that the page can be looked at again, and in the forms that take a way.
 */
import { addDays, parseCivilDate, weekdayOf, type CivilDate } from "../domain/time.js";
import { listDatesAhead, listSaturdaysAhead } from "../planner/ways-out.js";
import type { Permissions } from "../planner/ways-out/way-out.js";
import type { DeskState } from "../services/desk.js";
import { listOf, textOf } from "./form-body.js";
import { readSlipForm, toSlipFields, type SlipForm } from "./slip-form.js";
import { readWishForm, toWishFields, type WishForm } from "./wish-form.js";

export interface WaysForm {
  readonly slip: SlipForm | null;
  readonly wish: WishForm | null;
  readonly resequence: boolean;
  readonly lend: boolean;
  readonly stretch: readonly CivilDate[];
  readonly saturday: readonly CivilDate[];
}

/** Dates that the page offers. */
export interface OfferedDates {
  readonly stretch: readonly CivilDate[];
  readonly saturday: readonly CivilDate[];
}

/** How many days are offered, and how many of them are allowed where nobody has chosen. */
const STRETCH_DAYS = 5;
const STRETCHED_AT_FIRST = 3;
const SATURDAYS = 2;
const DAYS_LOOKED_AHEAD = 14;

/** The next days on which an own crew works, and the next Saturdays on which none does anyway. */
export function listOfferedDates({ company, nowMinute }: DeskState): OfferedDates {
  const own = company.crews.filter(({ kind }) => kind === "own");
  const works = (date: CivilDate): boolean =>
    own.some(({ week, off }) => {
      const isOff = off.some(({ from, to }) => from <= date && date <= to);
      return week[weekdayOf(date)] !== undefined && !isOff;
    });
  return {
    stretch: listDatesAhead(company, nowMinute, DAYS_LOOKED_AHEAD).filter(works).slice(0, STRETCH_DAYS),
    saturday: listSaturdaysAhead(company, nowMinute, SATURDAYS),
  };
}

/** The form as it was sent; what nobody has chosen yet as it is usual. */
export function readWaysForm(fields: unknown, offered: OfferedDates): WaysForm {
  const asked = { slip: readSlipForm(fields), wish: readWishForm(fields) };
  if (textOf(fields, "chosen") !== "yes") {
    return {
      ...asked,
      resequence: true,
      lend: true,
      stretch: offered.stretch.slice(0, STRETCHED_AT_FIRST),
      saturday: offered.saturday.slice(0, 1),
    };
  }
  return {
    ...asked,
    resequence: textOf(fields, "resequence") === "yes",
    lend: textOf(fields, "lend") === "yes",
    stretch: listDates(fields, "stretch", offered.stretch),
    saturday: listDates(fields, "saturday", offered.saturday),
  };
}

/** Dates of a form, in order, each once; of those that are not offered only near ones, from before midnight. */
function listDates(fields: unknown, name: string, offered: readonly CivilDate[]): readonly CivilDate[] {
  const last = offered.at(-1);
  const dates = listOf(fields, name).flatMap((text) => {
    const date = parseCivilDate(text);
    return date === undefined || last === undefined || date > addDays(last, 1) ? [] : [date];
  });
  return [...new Set(dates)].sort().slice(0, STRETCH_DAYS + SATURDAYS);
}

export function toPermissions({ resequence, lend, stretch, saturday }: WaysForm): Permissions {
  return { resequence, lend, stretch, saturday };
}

export type Fields = readonly (readonly [name: string, value: string])[];

/** What was allowed, as fields of another form. */
export function toPermissionFields({ resequence, lend, stretch, saturday }: WaysForm): Fields {
  return [
    ["chosen", "yes"],
    ...(resequence ? [["resequence", "yes"] as const] : []),
    ...(lend ? [["lend", "yes"] as const] : []),
    ...stretch.map((date) => ["stretch", date] as const),
    ...saturday.map((date) => ["saturday", date] as const),
  ];
}

/** All of it. */
export function toWaysFields(form: WaysForm): Fields {
  return [...toSlipFields(form.slip), ...toPermissionFields(form), ...toWishFields(form.wish)];
}
