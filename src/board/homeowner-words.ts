/** What a homeowner's page says, in English and Spanish; a key that lacks a language does not compile. */
import { spanishHour, type Language } from "./spoken-time.js";

export interface HomeownerWords {
  readonly heading: (house: string) => string;
  readonly nextHeading: string;
  readonly next: (work: string, day: string, company: string) => string;
  readonly nobodyYet: string;
  readonly allDone: string;
  readonly days: string;
  readonly from: (clock: string) => string;
  readonly isPromised: string;
  readonly isExpected: string;
  readonly meaning: string;
  readonly moreDays: (count: number) => string;
  readonly waiting: string;
  readonly waitsForNothing: string;
  readonly delivery: (what: string, date: string) => string;
  readonly lateDelivery: (what: string, date: string) => string;
  readonly wait: (what: string, date: string) => string;
  readonly outdoorWork: string;
  readonly allWork: string;
  readonly weather: (work: readonly string[], when: string) => string;
  readonly hold: (work: readonly string[], when: string) => string;
  readonly finish: (date: string) => string;
  readonly promisedFor: (date: string) => string;
  readonly otherLanguage: string;
  readonly private: string;
}

/** As it is written within a sentence: small; what begins with two capitals is a name. */
export function within(text: string): string {
  return /^\p{Lu}{2}/u.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1);
}

const en: HomeownerWords = {
  heading: (house) => `Work at ${house}`,
  nextHeading: "Who comes next",
  next: (work, day, company) => `${work}, ${day}, by ${company}.`,
  nobodyYet: "Nobody is planned to come yet.",
  allDone: "All work at your house is done.",
  days: "The days",
  from: (clock) => `from ${clock}`,
  isPromised: "promised",
  isExpected: "expected",
  meaning: "A promised day holds unless we call you. An expected day may still change.",
  moreDays: (count) => (count === 1 ? "And one day after these." : `And ${count} days after these.`),
  waiting: "What is waited for",
  waitsForNothing: "Nothing at the moment.",
  delivery: (what, date) => `Delivery: ${what}, expected ${date}`,
  lateDelivery: (what, date) => `Delivery: ${what}, was expected ${date}`,
  wait: (what, date) => `${what}, expected to be settled by ${date}`,
  outdoorWork: "outdoor work",
  allWork: "all work",
  weather: (work, when) => `Weather: ${work.map(within).join(", ")} on hold, ${when}`,
  hold: (work, when) => `On hold: ${work.map(within).join(", ")}, ${when}`,
  finish: (date) => `All of it is expected to be done on ${date}.`,
  promisedFor: (date) => `It was promised for ${date}.`,
  otherLanguage: "Español",
  private: "This page is yours: whoever has its address can read it.",
};

const es: HomeownerWords = {
  heading: (house) => `Trabajo en ${house}`,
  nextHeading: "Quién viene después",
  next: (work, day, company) => `${work}, ${within(day)}, por ${company}.`,
  nobodyYet: "Aún no hay nadie con fecha para venir.",
  allDone: "Todo el trabajo en su casa está terminado.",
  days: "Los días",
  from: (clock) => `desde ${spanishHour(clock)}`,
  isPromised: "prometido",
  isExpected: "previsto",
  meaning: "Un día prometido es firme, salvo que le llamemos. Un día previsto aún puede cambiar.",
  moreDays: (count) =>
    count === 1 ? "Y un día más después de estos." : `Y ${count} días más después de estos.`,
  waiting: "Qué se espera",
  waitsForNothing: "Nada por ahora.",
  delivery: (what, date) => `Entrega: ${what}, prevista para el ${date}`,
  lateDelivery: (what, date) => `Entrega: ${what}, se esperaba el ${date}`,
  wait: (what, date) => `${what}, previsto a más tardar el ${date}`,
  outdoorWork: "trabajo al aire libre",
  allWork: "todo el trabajo",
  weather: (work, when) => `Clima: ${work.map(within).join(", ")} en pausa, ${when}`,
  hold: (work, when) => `En pausa: ${work.map(within).join(", ")}, ${when}`,
  finish: (date) => `Se prevé terminar todo el ${within(date)}.`,
  promisedFor: (date) => `Se prometió para el ${within(date)}.`,
  otherLanguage: "English",
  private: "Esta página es suya: quien tenga su dirección puede leerla.",
};

export const HOMEOWNER_WORDS = { en, es } as const satisfies Record<Language, HomeownerWords>;
