/**
 * The sentences of `because`, in English and Spanish. A table over all kinds, so that a new kind without words does
 * not compile.
 */
import type { BecauseKind, Text } from "../../domain/plan-format.js";
import { shortClock, shortDay } from "../../domain/spoken-short.js";
import type { CivilDate } from "../../domain/time.js";
import type { ZoneDays } from "../compile/zone-days.js";

export interface BecauseFacts {
  readonly crew: string;
  readonly house: string;
  /** Title and house of the task that is waited for. */
  readonly byTitle: string;
  readonly byHouse: string;
  readonly what: string;
  readonly until: Text;
  /** The same minute as the start of something. */
  readonly from: Text;
}

type Sentence = (facts: BecauseFacts) => Text;

const SENTENCES = {
  "start-of-plan": () => ({ en: "Nothing holds it back.", es: "Nada lo detiene." }),
  "crew-busy": ({ crew, byTitle, byHouse, until }) => ({
    en: `${crew} is at ${byHouse} with "${byTitle}" until ${until.en}.`,
    es: `${crew} está en ${byHouse} con «${byTitle}» hasta el ${until.es}.`,
  }),
  "crew-off": ({ crew, until }) => ({
    en: `${crew} does not work before ${until.en}.`,
    es: `${crew} no trabaja antes del ${until.es}.`,
  }),
  access: ({ house, until }) => ({
    en: `${house} lets nobody in before ${until.en}.`,
    es: `${house} no permite entrar antes del ${until.es}.`,
  }),
  "no-light": ({ until }) => ({
    en: `No light to work by before ${until.en}.`,
    es: `No hay luz para trabajar antes del ${until.es}.`,
  }),
  hold: ({ what, until }) => ({
    en: `On hold (${what}) until ${until.en}.`,
    es: `En espera (${what}) hasta el ${until.es}.`,
  }),
  "after-task": ({ byTitle, until }) => ({
    en: `Comes after "${byTitle}", done ${until.en}.`,
    es: `Va después de «${byTitle}», listo el ${until.es}.`,
  }),
  curing: ({ byTitle, until }) => ({
    en: `"${byTitle}" must cure or dry until ${until.en}.`,
    es: `«${byTitle}» debe curar o secar hasta el ${until.es}.`,
  }),
  "not-before": ({ from }) => ({ en: `Not before ${from.en}.`, es: `No antes del ${from.es}.` }),
  delivery: ({ what, from }) => ({
    en: `Waits for delivery: ${what}, usable from ${from.en}.`,
    es: `Espera la entrega: ${what}, disponible desde el ${from.es}.`,
  }),
  wait: ({ byTitle, until }) => ({
    en: `Waits for "${byTitle}" until ${until.en}.`,
    es: `Espera «${byTitle}» hasta el ${until.es}.`,
  }),
  "close-by-dark": ({ house }) => ({
    en: `What is opened at ${house} could not be closed by dark any earlier.`,
    es: `Lo que se abra en ${house} no se podría cerrar antes de oscurecer.`,
  }),
  equipment: ({ what, byTitle, byHouse, until }) => ({
    en: `${what} is at ${byHouse} for "${byTitle}" until ${until.en}.`,
    es: `${what} está en ${byHouse} para «${byTitle}» hasta el ${until.es}.`,
  }),
  published: ({ from }) => ({
    en: `Published for ${from.en}; it stays there until somebody releases it.`,
    es: `Publicado para el ${from.es}; se queda ahí hasta que alguien lo libere.`,
  }),
} satisfies { [Kind in BecauseKind]: Sentence };

export function becauseText(kind: BecauseKind, facts: BecauseFacts): Text {
  const { en, es } = SENTENCES[kind](facts);
  return { en: endOnce(en), es: endOnce(es) };
}

/** A sentence that ends with "7:02 a.m." has its full stop already. */
function endOnce(sentence: string): string {
  return sentence.endsWith("..") ? sentence.slice(0, -1) : sentence;
}

/**
 * "Tue 8 Dec, 2:10 pm" and "mar 8 dic, 2:10 p.m.", as pages say it. Midnight is said as a date: as the start of something
 * "Tue 8 Dec", as the end of something "the end of Mon 7 Dec". A plan has thousands of these: no formatter of dates is
 * asked.
 */
export function whenText(days: ZoneDays, minute: number, sense: "from" | "until"): Text {
  const day = days.dayOf(minute);
  if (days.at(day) === minute) {
    const date = dateText(days.date(sense === "from" ? day : day - 1));
    return sense === "from" ? date : { en: `the end of ${date.en}`, es: `fin del ${date.es}` };
  }
  const wall = days.iso(minute).slice(11, 16);
  const date = dateText(days.date(day));
  return {
    en: `${date.en}, ${shortClock(wall, "en")}`,
    es: `${date.es}, ${shortClock(wall, "es")}`,
  };
}

const dateTexts = new Map<CivilDate, Text>();

function dateText(date: CivilDate): Text {
  let text = dateTexts.get(date);
  if (!text) dateTexts.set(date, (text = { en: shortDay(date, "en"), es: shortDay(date, "es") }));
  return text;
}
