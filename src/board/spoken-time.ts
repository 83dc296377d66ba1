/**
 * Times, dates, durations and distances as people read them, in English or Spanish.
 * Whole minutes in, finished text out; the zone is always the caller's.
 */
import { bareShortClock, shortClock, shortDay, type SpokenLanguage } from "../domain/spoken-short.js";
import { civilDateAt, clockAt, formatAt, formatDate, type CivilDate, type Minute } from "../domain/time.js";

export type Language = SpokenLanguage;

/** The one to switch to. */
export const OTHER_LANGUAGE = { en: "es", es: "en" } as const satisfies Record<Language, Language>;

const LOCALES = { en: "en-US", es: "es-US" } as const satisfies Record<Language, string>;
const LONG_DATE = { en: "cccc d LLLL", es: "cccc d 'de' LLLL" } as const satisfies Record<Language, string>;

/** "7:38 am", "7:38 a.m.". */
export function clock(minute: Minute, zone: string, language: Language): string {
  return shortClock(clockAt(minute, zone), language);
}

/** "7:38", where the place on the page says whether it is morning. */
export function bareClock(minute: Minute, zone: string): string {
  return bareShortClock(clockAt(minute, zone));
}

/** "7:38 am", and the zone's short name where it is not the reader's own: "6:38 am CST". */
export function clockThere(minute: Minute, zone: string, readerZone: string, language: Language): string {
  const text = clock(minute, zone, language);
  return zone === readerZone ? text : `${text} ${formatAt(minute, zone, "ZZZZ", "en-US")}`;
}

/** "Tuesday 8 December", "martes 8 de diciembre". */
export function longDate(date: CivilDate, language: Language): string {
  return capitalized(longDateWithin(date, language));
}

/** The same within a sentence: in Spanish a weekday is written small there. */
export function longDateWithin(date: CivilDate, language: Language): string {
  return formatDate(date, LONG_DATE[language], LOCALES[language]);
}

/** "Tue 8 Dec", "mar 8 dic". */
export function shortDate(date: CivilDate, language: Language): string {
  return shortDay(date, language);
}

/** "Tue 8 Dec, 7:38 am". */
export function dayAndClock(minute: Minute, zone: string, language: Language): string {
  return `${shortDate(civilDateAt(minute, zone), language)}, ${clock(minute, zone, language)}`;
}

/** Of a clock time in Spanish, with its article: "las 7:38 a.m.", "la 1:05 p.m.". */
export function spanishHour(clockText: string): string {
  return `${clockText.startsWith("1:") ? "la" : "las"} ${clockText}`;
}

const END_OF = { en: "end of", es: "fin del" } as const satisfies Record<Language, string>;

/** When something ends: "Tue 8 Dec, 7:38 am", and "end of Tue 8 Dec" for the midnight after it. */
export function endDayAndClock(minute: Minute, zone: string, language: Language): string {
  if (clockAt(minute, zone) !== "00:00") return dayAndClock(minute, zone, language);
  return `${END_OF[language]} ${shortDate(civilDateAt(minute - 1, zone), language)}`;
}

/** "45 min", "2 h", "3 h 20 min". */
export function duration(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

function capitalized(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
