/**
 * What crews read of reports from site, in English and Spanish; a key that lacks a language does not compile. What was
 * said is worded here for the office as well, in English.
 */
import type { DAMAGE_KINDS, DamageUnit, Met, StuckReason } from "../domain/site-report.js";
import type { Task } from "../domain/company-schema.js";
import type { Language } from "./spoken-time.js";

export interface ReportWords {
  readonly title: string;
  /** Of the page about another day than today. */
  readonly titleFor: (day: string) => string;
  readonly backToSheet: string;
  readonly controls: string;
  readonly otherLanguage: string;

  readonly saidToday: string;
  readonly saidFor: (day: string) => string;
  readonly nothingSaid: string;
  readonly withOffice: string;
  readonly settled: string;
  readonly takenBack: string;
  readonly met: Readonly<Record<Met, string>>;
  /** Where it is not known what it met. */
  readonly officeLooks: string;
  readonly addPhoto: string;
  readonly taken: string;
  readonly takenBefore: string;
  readonly notTaken: string;

  readonly tasks: string;
  readonly noTasks: string;
  /** What can be said of a task once its day has come, and when that is. */
  readonly onTheDay: string;
  readonly onTheDayHint: (day: string) => string;
  readonly status: Readonly<Record<Task["status"], string>>;
  readonly atHouse: (task: string, house: string) => string;
  readonly start: string;
  readonly done: string;
  readonly hoursLeft: string;
  readonly hoursLeftHint: (people: number) => string;
  /** How long the crew still needs, and what that is in labor-hours. */
  readonly crewTime: (hours: number) => string;
  readonly laborHours: (hours: number) => string;
  readonly otherHours: string;
  readonly send: string;
  readonly stuck: string;
  readonly stuckHint: string;
  readonly stuckHintFor: (day: string) => string;
  readonly reasons: Readonly<Record<StuckReason, string>>;
  readonly damage: string;
  readonly damageWhat: string;
  readonly damageKinds: Readonly<Record<(typeof DAMAGE_KINDS)[number] | "other", string>>;
  readonly area: string;
  readonly amount: string;
  readonly unit: string;
  readonly units: Readonly<Record<DamageUnit, string>>;
  readonly extraHours: string;
  readonly note: string;
  readonly photoAfter: string;

  readonly ofTheDay: string;
  readonly ofThatDay: (day: string) => string;
  readonly stretch: string;
  readonly stretchHint: string;
  readonly shortHanded: string;
  readonly shortHint: string;
  readonly people: (count: number) => string;
  readonly nobodyToMiss: string;

  readonly said: {
    readonly start: string;
    readonly done: string;
    readonly hoursLeft: (hours: string) => string;
    readonly stuck: (reason: string) => string;
    readonly damage: (parts: string) => string;
    readonly extraHours: (hours: string) => string;
    readonly stretch: string;
    readonly shortHanded: (count: number) => string;
  };

  readonly faults: {
    readonly key: string;
    readonly usedKey: string;
    readonly kind: string;
    readonly date: string;
    readonly saidAt: string;
    readonly task: string;
    readonly hours: string;
    readonly reason: string;
    readonly what: string;
    readonly area: string;
    readonly amount: string;
    readonly unit: string;
    readonly missing: string;
    readonly note: string;
  };
}

const en: ReportWords = {
  title: "Report",
  titleFor: (day) => `Report for ${day}`,
  backToSheet: "Day sheet",
  controls: "Day sheet and language",
  otherLanguage: "Español",

  saidToday: "Said today",
  saidFor: (day) => `Said for ${day}`,
  nothingSaid: "Nothing yet.",
  withOffice: "The office has it.",
  settled: "Seen by the office.",
  takenBack: "Taken back by the office.",
  met: {
    "other-crew": "The plan had this work with another crew; the office sees both.",
    changed: "The office had changed this work meanwhile; it sees both.",
    "said-later": "What was said after it stands.",
    "done-already": "This work was down as done already; the office looks at it.",
    "day-over": "That day is over, so nothing waits for it.",
    "too-far-ahead": "That is more than two weeks ahead, so nothing waits for it yet.",
    "not-there": "This work is not in the plan any more; the office looks at it.",
    "nobody-left": "With nobody there the office takes you off the plan that day.",
    "no-work": "The plan has no work for you then.",
    "not-possible": "The plan could not take it in; the office looks at it.",
  },
  officeLooks: "The office looks at it.",
  addPhoto: "Add a photo",
  taken: "The office has it.",
  takenBefore: "The office had this already.",
  notTaken: "This was not taken",

  tasks: "Work",
  noTasks: "No work that day, and nothing under way.",
  onTheDay: "Start, done, hours left",
  onTheDayHint: (day) => `For when ${day} has come, or if you have begun already.`,
  status: { "to-do": "to do", "under-way": "under way", done: "done" },
  atHouse: (task, house) => `${task}, ${house}`,
  start: "Start",
  done: "Done",
  hoursLeft: "Hours left",
  hoursLeftHint: (people) =>
    people === 1 ? "How long do you still need?" : `How long do the ${people} of you still need?`,
  crewTime: (hours) => (hours === 0.5 ? "½ hour" : `${hours} hour${hours === 1 ? "" : "s"}`),
  laborHours: (hours) => `${hours} labor-hour${hours === 1 ? "" : "s"}`,
  otherHours: "Or in labor-hours",
  send: "Send",
  stuck: "Stuck",
  stuckHint: "What holds you up? This work waits until midnight, unless the office says otherwise.",
  stuckHintFor: (day) =>
    `What would hold you up? This work waits from now until the end of ${day}, unless the office says otherwise.`,
  reasons: {
    material: "Material",
    weather: "Weather",
    "another-trade": "Another trade",
    customer: "Customer",
    damage: "Damage",
    other: "Something else",
  },
  damage: "Damage found",
  damageWhat: "What",
  damageKinds: {
    sheathing: "Rotten sheathing",
    framing: "Rotten framing",
    sill: "Rot around a window or door",
    insulation: "Wet insulation",
    trim: "Rotten trim",
    other: "Something else (say it below)",
  },
  area: "Where",
  amount: "How much, as far as you see",
  unit: "Sheets or feet",
  units: { sheets: "sheets", feet: "feet" },
  extraHours: "Labor-hours more, if you can tell",
  note: "In your words",
  photoAfter: "You can add a photo after sending.",

  ofTheDay: "The day",
  ofThatDay: (day) => `The day: ${day}`,
  stretch: "We want to work to last light",
  stretchHint: "The office says whether the day is stretched.",
  shortHanded: "People missing",
  shortHint: "How many are missing?",
  people: (count) => String(count),
  nobodyToMiss: "If nobody comes, call the office.",

  said: {
    start: "Begun",
    done: "Done",
    hoursLeft: (hours) => `${hours} left`,
    stuck: (reason) => `Stuck: ${reason}`,
    damage: (parts) => `Damage: ${parts}`,
    extraHours: (hours) => `${hours} more`,
    stretch: "Light stretch wanted",
    shortHanded: (count) => `Short-handed: ${count} missing`,
  },

  faults: {
    key: "The form has come without its number. Open the page again and send it once more.",
    usedKey:
      "This form has been sent already, with something else in it, and that was taken. Look at it, and send yours again if it is still right.",
    kind: "Say what you report. Open the page again.",
    date: "The form names no day. Open the page again.",
    saidAt: "The time at which this was said is no time. Open the page again.",
    task: "Say which task it is about. Open the page again.",
    hours: "Write the labor-hours as a number above 0, such as 6 or 4.5. Is nothing left, press Done.",
    reason: "Say what holds you up.",
    what: "Say what is damaged, in at most 200 characters.",
    area: "Say where in at most 200 characters.",
    amount: "Write how much as a number above 0, or leave it empty.",
    unit: "Choose sheets or feet.",
    missing: "Say how many people are missing: 1 or more.",
    note: "Say it in at most 2,000 characters, without special signs.",
  },
};

const es: ReportWords = {
  title: "Avisar",
  titleFor: (day) => `Avisar para el ${day}`,
  backToSheet: "Hoja del día",
  controls: "Hoja del día e idioma",
  otherLanguage: "English",

  saidToday: "Avisado hoy",
  saidFor: (day) => `Avisado para el ${day}`,
  nothingSaid: "Nada todavía.",
  withOffice: "La oficina ya lo tiene.",
  settled: "Visto por la oficina.",
  takenBack: "La oficina lo retiró.",
  met: {
    "other-crew": "El plan tenía este trabajo con otra cuadrilla; la oficina ve las dos cosas.",
    changed: "La oficina había cambiado este trabajo entretanto; ve las dos cosas.",
    "said-later": "Vale lo que se avisó después.",
    "done-already": "Este trabajo ya constaba como terminado; la oficina lo revisa.",
    "day-over": "Ese día ya pasó, así que nada espera por esto.",
    "too-far-ahead": "Faltan más de dos semanas, así que todavía nada espera por esto.",
    "not-there": "Este trabajo ya no está en el plan; la oficina lo revisa.",
    "nobody-left": "Si no va nadie, la oficina los saca del plan ese día.",
    "no-work": "El plan no tiene trabajo para ustedes entonces.",
    "not-possible": "El plan no pudo tomarlo en cuenta; la oficina lo revisa.",
  },
  officeLooks: "La oficina lo revisa.",
  addPhoto: "Agregar una foto",
  taken: "La oficina ya lo tiene.",
  takenBefore: "La oficina ya tenía este aviso.",
  notTaken: "Este aviso no se recibió",

  tasks: "Trabajo",
  noTasks: "Ese día no hay trabajo, y no hay nada en marcha.",
  onTheDay: "Empezamos, terminado, horas que faltan",
  onTheDayHint: (day) => `Para cuando llegue el ${day}, o si ya empezaron.`,
  status: { "to-do": "por hacer", "under-way": "en marcha", done: "terminado" },
  atHouse: (task, house) => `${task}, ${house}`,
  start: "Empezamos",
  done: "Terminado",
  hoursLeft: "Horas que faltan",
  hoursLeftHint: (people) =>
    people === 1 ? "¿Cuánto le falta todavía?" : `¿Cuánto les falta todavía a los ${people}?`,
  crewTime: (hours) => (hours === 0.5 ? "½ hora" : `${hours} hora${hours === 1 ? "" : "s"}`),
  laborHours: (hours) => `${hours} hora${hours === 1 ? "" : "s"} de trabajo`,
  otherHours: "O en horas de trabajo",
  send: "Enviar",
  stuck: "Detenidos",
  stuckHint: "¿Qué los detiene? Este trabajo espera hasta la medianoche, si la oficina no dice otra cosa.",
  stuckHintFor: (day) =>
    `¿Qué los detendría? Este trabajo espera desde ahora hasta el fin del ${day}, si la oficina no dice otra cosa.`,
  reasons: {
    material: "Material",
    weather: "Clima",
    "another-trade": "Otro oficio",
    customer: "El cliente",
    damage: "Daño",
    other: "Otra cosa",
  },
  damage: "Daño encontrado",
  damageWhat: "Qué",
  damageKinds: {
    sheathing: "Tablero podrido",
    framing: "Marco podrido",
    sill: "Podrido junto a una ventana o puerta",
    insulation: "Aislamiento mojado",
    trim: "Molduras podridas",
    other: "Otra cosa (dígalo abajo)",
  },
  area: "Dónde",
  amount: "Cuánto, hasta donde se ve",
  unit: "Hojas o pies",
  units: { sheets: "hojas", feet: "pies" },
  extraHours: "Horas de trabajo de más, si se sabe",
  note: "En sus palabras",
  photoAfter: "Después de enviar puede agregar una foto.",

  ofTheDay: "El día",
  ofThatDay: (day) => `El día: ${day}`,
  stretch: "Queremos trabajar hasta la última luz",
  stretchHint: "La oficina dice si el día se alarga.",
  shortHanded: "Falta gente",
  shortHint: "¿Cuántos faltan?",
  people: (count) => String(count),
  nobodyToMiss: "Si no viene nadie, llame a la oficina.",

  said: {
    start: "Empezado",
    done: "Terminado",
    hoursLeft: (hours) => `Faltan ${hours}`,
    stuck: (reason) => `Detenidos: ${reason}`,
    damage: (parts) => `Daño: ${parts}`,
    extraHours: (hours) => `${hours} de más`,
    stretch: "Piden un día largo",
    shortHanded: (count) => `Falta gente: ${count}`,
  },

  faults: {
    key: "El aviso llegó sin su número. Abra la página otra vez y envíelo de nuevo.",
    usedKey:
      "Este aviso ya se envió con otra cosa, y esa se recibió. Revísela y envíe el suyo otra vez si todavía vale.",
    kind: "Diga qué avisa. Abra la página otra vez.",
    date: "El aviso no dice el día. Abra la página otra vez.",
    saidAt: "La hora del aviso no es una hora. Abra la página otra vez.",
    task: "Diga de qué trabajo se trata. Abra la página otra vez.",
    hours:
      "Escriba las horas de trabajo como número mayor que 0, por ejemplo 6 o 4.5. Si no falta nada, marque Terminado.",
    reason: "Diga qué los detiene.",
    what: "Diga qué está dañado, con 200 letras a lo más.",
    area: "Diga dónde, con 200 letras a lo más.",
    amount: "Escriba cuánto como número mayor que 0, o déjelo vacío.",
    unit: "Elija hojas o pies.",
    missing: "Diga cuántos faltan: 1 o más.",
    note: "Dígalo con 2000 letras a lo más, sin signos especiales.",
  },
};

export const REPORT_WORDS = { en, es } as const satisfies Record<Language, ReportWords>;
