/**
 * Clock times and dates in their short form, one form for each language: pages and the reasons of plans say them alike.
 * Written out here because a formatter of dates may write another form with every version of its data.
 */
import { weekdayOf, WEEKDAYS, type CivilDate } from "./time.js";

export type SpokenLanguage = "en" | "es";

const HALVES = {
  en: ["am", "pm"],
  es: ["a.m.", "p.m."],
} as const satisfies Record<SpokenLanguage, readonly [string, string]>;

const MONTHS: Record<SpokenLanguage, readonly string[]> = {
  en: ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
  es: ["ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"],
};

const DAYS: Record<SpokenLanguage, readonly string[]> = {
  en: ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
  es: ["lun", "mar", "mié", "jue", "vie", "sáb", "dom"],
};

/** Of `14:10`: "2:10 pm", "2:10 p.m.". */
export function shortClock(wallClock: string, language: SpokenLanguage): string {
  const hour = Number(wallClock.slice(0, 2));
  return `${bareShortClock(wallClock)} ${HALVES[language][hour < 12 ? 0 : 1]}`;
}

/** Of `14:10`: "2:10". */
export function bareShortClock(wallClock: string): string {
  const hour = Number(wallClock.slice(0, 2));
  return `${hour % 12 === 0 ? 12 : hour % 12}:${wallClock.slice(3, 5)}`;
}

/** "Tue 8 Dec", "mar 8 dic". */
export function shortDay(date: CivilDate, language: SpokenLanguage): string {
  const weekday = DAYS[language][WEEKDAYS.indexOf(weekdayOf(date))] ?? "";
  const month = MONTHS[language][Number(date.slice(5, 7)) - 1] ?? "";
  return `${weekday} ${Number(date.slice(8, 10))} ${month}`;
}
