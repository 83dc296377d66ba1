/**
 * What the day sheet says, in English and Spanish. One entry for each thing said: a key that lacks a language does not
 * compile. Names, titles and addresses come from the company file as they are.
 */
import type { Language } from "./spoken-time.js";

export interface Words {
  readonly daySheet: string;
  readonly crew: string;
  readonly lead: (name: string, size: number) => string;
  readonly starts: string;
  readonly atYard: string;
  readonly thenTo: (house: string) => string;
  readonly light: string;
  readonly sunUp: string;
  readonly sunSets: string;
  readonly firstLight: string;
  readonly lastLight: string;
  /** First and last light, where they are sunrise and sunset. */
  readonly firstLightSun: string;
  readonly lastLightSun: string;
  /** A link to the phone's map. */
  readonly map: string;
  readonly toolsDownBy: string;
  readonly toolsDownAt: (place: string) => string;
  readonly lightAllDay: string;
  readonly noLight: string;
  readonly inHand: (duration: string) => string;
  readonly darkTakes: (duration: string) => string;
  readonly stretch: string;
  readonly holds: string;
  /** Of a day, in a word: some work is on hold. */
  readonly hold: string;
  readonly noHolds: string;
  readonly holdOn: (work: string, where: string) => string;
  readonly outdoorWork: string;
  readonly allWork: string;
  readonly everyHouse: string;
  readonly order: string;
  readonly oneByOne: string;
  readonly load: string;
  readonly drive: (miles: string) => string;
  readonly driveToYard: (miles: string) => string;
  readonly setup: string;
  readonly break: string;
  readonly coverUp: string;
  readonly cleanup: string;
  readonly unit: (first: number, last: number, of: number) => string;
  readonly goesOn: string;
  readonly steps: string;
  readonly before: string;
  readonly after: string;
  readonly nothingBefore: string;
  readonly nothingAfter: string;
  readonly doneBy: (crew: string) => string;
  readonly done: string;
  readonly by: (crew: string, when: string) => string;
  readonly noCrew: (when: string) => string;
  /** The same of what may still move: the date alone. */
  readonly forecastBy: (crew: string, date: string) => string;
  readonly forecastNoCrew: (date: string) => string;
  readonly notPlanned: string;
  readonly bring: string;
  readonly onSite: string;
  readonly expected: (date: string) => string;
  readonly why: string;
  readonly endOfDay: string;
  readonly cautions: string;
  readonly nextDays: string;
  readonly notCalledOut: string;
  readonly notCalledOutLong: (crew: string, why: string) => string;
  readonly today: string;
  readonly tomorrow: string;
  readonly otherLanguage: string;
  readonly days: string;
  readonly board: string;
  readonly controls: string;
  readonly print: string;
  readonly printHint: string;
  readonly report: string;
  readonly reportToday: string;
  readonly photos: string;
  /** Over the next days. */
  readonly unlessPublished: string;
  /** After a day's line. */
  readonly published: string;
}

const en: Words = {
  daySheet: "Day sheet",
  crew: "Crew",
  lead: (name, size) => (size > 1 ? `${name} and ${size - 1} more` : name),
  starts: "Start",
  atYard: "at the yard, to load",
  thenTo: (house) => `then to ${house}`,
  light: "Light",
  sunUp: "Sun up",
  sunSets: "Sun sets",
  firstLight: "First light",
  lastLight: "Last light",
  firstLightSun: "First light, sun up",
  lastLightSun: "Last light, sun sets",
  map: "Map",
  toolsDownBy: "Tools down by",
  toolsDownAt: (place) => `Tools down at ${place}`,
  lightAllDay: "Light all day",
  noLight: "No light all day",
  inHand: (duration) => `${duration} of light in hand after the shift`,
  darkTakes: (duration) => `The dark takes ${duration} of the shift`,
  stretch: "A stretch: the day runs to last light",
  holds: "Weather and holds",
  hold: "hold",
  noHolds: "No holds",
  holdOn: (work, where) => `${work}, ${where}`,
  outdoorWork: "Outdoor work",
  allWork: "All work",
  everyHouse: "every house",
  order: "The day in order",
  oneByOne: "One by one",
  load: "Load up at the yard",
  drive: (miles) => `Drive${miles === "" ? "" : `, ${miles}`}`,
  driveToYard: (miles) => `Drive back to the yard${miles === "" ? "" : `, ${miles}`}`,
  setup: "Set up",
  break: "Break",
  coverUp: "Cover what is open",
  cleanup: "Clean up",
  unit: (first, last, of) =>
    first === 1 && last === of
      ? `all ${of} units`
      : first === last
        ? `unit ${first} of ${of}`
        : `units ${first} to ${last} of ${of}`,
  goesOn: "goes on",
  steps: "Steps",
  before: "Before",
  after: "Next",
  nothingBefore: "Nothing comes before this.",
  nothingAfter: "Nothing waits for this.",
  doneBy: (crew) => `done by ${crew}`,
  done: "done",
  by: (crew, when) => `${crew}, ${when}`,
  noCrew: (when) => `no crew, until ${when}`,
  forecastBy: (crew, date) => `${crew}, forecast ${date}`,
  forecastNoCrew: (date) => `no crew, forecast until ${date}`,
  notPlanned: "not planned yet",
  bring: "Bring",
  onSite: "is there",
  expected: (date) => `expected ${date}`,
  why: "Why then",
  endOfDay: "Before you leave",
  cautions: "Take care",
  nextDays: "Next five days",
  notCalledOut: "not called out",
  notCalledOutLong: (crew, why) => `${crew} is not called out that day${why === "" ? "" : `: ${why}`}.`,
  today: "Today",
  tomorrow: "Tomorrow",
  otherLanguage: "Español",
  days: "Next days",
  board: "Board",
  controls: "Other days and language",
  print: "Print this sheet",
  printHint: "Print this page on letter paper: one page.",
  report: "Report",
  reportToday: "Report for today",
  photos: "Send a photo",
  unlessPublished: "Forecast, where it does not say published.",
  published: "published",
};

const es: Words = {
  daySheet: "Hoja del día",
  crew: "Cuadrilla",
  lead: (name, size) => (size > 1 ? `${name} y ${size - 1} más` : name),
  starts: "Empieza",
  atYard: "en el patio, para cargar",
  thenTo: (house) => `luego a ${house}`,
  light: "Luz",
  sunUp: "Sale el sol",
  sunSets: "Se pone el sol",
  firstLight: "Primera luz",
  lastLight: "Última luz",
  firstLightSun: "Primera luz, sale el sol",
  lastLightSun: "Última luz, se pone el sol",
  map: "Mapa",
  toolsDownBy: "Herramientas abajo a más tardar",
  toolsDownAt: (place) => `Herramientas abajo en ${place}`,
  lightAllDay: "Luz todo el día",
  noLight: "Sin luz todo el día",
  inHand: (duration) => `Quedan ${duration} de luz después del turno`,
  darkTakes: (duration) => `La oscuridad quita ${duration} del turno`,
  stretch: "Día largo: se trabaja hasta la última luz",
  holds: "Clima y pausas",
  hold: "pausa",
  noHolds: "Sin pausas",
  holdOn: (work, where) => `${work}, ${where}`,
  outdoorWork: "Trabajo al aire libre",
  allWork: "Todo el trabajo",
  everyHouse: "todas las casas",
  order: "El día en orden",
  oneByOne: "Paso a paso",
  load: "Cargar en el patio",
  drive: (miles) => `Manejar${miles === "" ? "" : `, ${miles}`}`,
  driveToYard: (miles) => `Regresar al patio${miles === "" ? "" : `, ${miles}`}`,
  setup: "Preparar el sitio",
  break: "Descanso",
  coverUp: "Cubrir lo que está abierto",
  cleanup: "Limpiar",
  unit: (first, last, of) =>
    first === 1 && last === of
      ? `las ${of} unidades`
      : first === last
        ? `unidad ${first} de ${of}`
        : `unidades ${first} a ${last} de ${of}`,
  goesOn: "continúa",
  steps: "Pasos",
  before: "Antes",
  after: "Después",
  nothingBefore: "Nada va antes de esto.",
  nothingAfter: "Nada espera a esto.",
  doneBy: (crew) => `hecho por ${crew}`,
  done: "hecho",
  by: (crew, when) => `${crew}, ${when}`,
  noCrew: (when) => `sin cuadrilla, hasta ${when}`,
  forecastBy: (crew, date) => `${crew}, pronóstico ${date}`,
  forecastNoCrew: (date) => `sin cuadrilla, pronóstico hasta ${date}`,
  notPlanned: "aún sin fecha",
  bring: "Llevar",
  onSite: "ya está ahí",
  expected: (date) => `se espera el ${date}`,
  why: "Por qué a esa hora",
  endOfDay: "Antes de irse",
  cautions: "Cuidado",
  nextDays: "Los próximos cinco días",
  notCalledOut: "no sale",
  notCalledOutLong: (crew, why) => `${crew} no sale ese día${why === "" ? "" : `: ${why}`}.`,
  today: "Hoy",
  tomorrow: "Mañana",
  otherLanguage: "English",
  days: "Más días",
  board: "Tablero",
  controls: "Otros días e idioma",
  print: "Imprimir esta hoja",
  printHint: "Imprima esta página en papel carta: una hoja.",
  report: "Avisar",
  reportToday: "Avisar de hoy",
  photos: "Mandar una foto",
  unlessPublished: "Pronóstico, salvo donde dice publicado.",
  published: "publicado",
};

/** Everything the day sheet says, by language. */
export const WORDS = { en, es } as const satisfies Record<Language, Words>;
