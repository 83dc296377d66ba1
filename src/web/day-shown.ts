/**
 * Which day a page is about when nobody says: tomorrow from 3 pm on, by the company's clock, and today before.
 */
import { addDays, clockAt, parseCivilDate, type CivilDate } from "../domain/time.js";
import type { DeskState } from "../services/desk.js";
import { HttpRefusal } from "./http-refusal.js";

const TOMORROW_FROM = "15:00";

/** The day that crews and office look at now. */
export function dayShown({ company, today, nowMinute }: DeskState): CivilDate {
  return clockAt(nowMinute, company.company.timeZone) >= TOMORROW_FROM ? addDays(today, 1) : today;
}

/** The date that a URL names. */
export function dateIn(text: string): CivilDate {
  const date = parseCivilDate(text);
  if (date !== undefined) return date;
  throw new HttpRefusal(
    404,
    `"${text}" is no date. Write it as year-month-day, such as 2027-03-16.`,
    `"${text}" no es una fecha. Escríbala como año-mes-día, por ejemplo 2027-03-16.`,
  );
}
