/**
 * The usual cautions for work at a house, one line each, with the published rule. They remind; they certify nothing.
 * What is not known counts as dangerous: a house without a year is treated as built before 1978, an unknown height as high.
 */
import type { Text } from "./plan-format.js";
import type { TradeId } from "./trade-catalogue.js";

/** What is known about a day's work at a house. Left out or null = unknown. */
export interface WorkSituation {
  /** The trades worked; ids that are not the catalogue's are passed over. */
  readonly tradeIds: readonly string[];
  readonly yearBuilt: number | null;
  /** Height of the highest work surface above the ground or the next level down. */
  readonly highestWorkFt?: number | null;
  readonly gustMph?: number | null;
  readonly tempF?: number | null;
  readonly heatIndexF?: number | null;
  readonly windChillF?: number | null;
  /** Whether thunder is forecast or was heard. */
  readonly thunder?: boolean | null;
  /** Whether old siding may hold asbestos: false once a test has said no. */
  readonly asbestosPossible?: boolean | null;
  /** Whether a service drop, mast or meter is on the wall that is worked on. */
  readonly powerNear?: boolean | null;
  /** Whether a hose bib or gas line is on it. */
  readonly waterOrGasNear?: boolean | null;
  /** Whether anybody digs or drives a post or stake. */
  readonly digging?: boolean | null;
}

export const cautionIds = [
  "fall",
  "ladder-wind",
  "lightning",
  "heat",
  "cold",
  "lead",
  "asbestos",
  "silica",
  "power",
  "water-gas",
  "dig",
] as const;
export type CautionId = (typeof cautionIds)[number];

export interface Caution {
  readonly id: CautionId;
  readonly text: Text;
  /** The published rule, or "common practice". */
  readonly rule: Text;
}

/** Stands once above or below every list of cautions. */
export const DEFERRAL: Text = {
  en: "Reminders only. Local code, the maker's instructions and licensed practice come first.",
  es: "Solo recordatorios. El código local, las instrucciones del fabricante y el trabajo con licencia van primero.",
};

/** Residential work at this height or more needs fall protection (29 CFR 1926.501(b)(13)). */
export const FALL_PROTECTION_FT = 6;

interface CautionEntry {
  readonly text: Text;
  readonly rule: Text;
  readonly applies: (situation: WorkSituation) => boolean;
}

const PAINT_DISTURBING: readonly TradeId[] = [
  "tear-off",
  "sheathing",
  "reframe",
  "windows",
  "trim",
  "siding",
  "caulk",
  "roof-edge",
  "gutters",
];
const DUSTY: readonly TradeId[] = ["stone", "siding"];
const ON_THE_SKIN: readonly TradeId[] = [
  "tear-off",
  "wrb",
  "trim",
  "siding",
  "stone",
  "roof-edge",
  "gutters",
];
const AT_THE_BASE: readonly TradeId[] = ["tear-off", "trim", "siding", "stone"];

const CAUTIONS: { readonly [Id in CautionId]: CautionEntry } = {
  fall: {
    text: {
      en: "Work 6 ft or more up needs guardrail, net or personal fall arrest; scaffolds above 10 ft.",
      es: "A 6 pies o más de altura se necesita baranda, red o arnés; en andamios, a más de 10 pies.",
    },
    rule: { en: "29 CFR 1926.501(b)(13); 1926.451(g)(1)", es: "29 CFR 1926.501(b)(13); 1926.451(g)(1)" },
    applies: (situation) =>
      worksOutdoors(situation) && (situation.highestWorkFt ?? Infinity) >= FALL_PROTECTION_FT,
  },
  "ladder-wind": {
    text: {
      en: "Wind: off ladders at gusts of 25 mph. No scaffold work in high wind unless a competent person says so.",
      es: "Viento: bajar de escaleras con ráfagas de 25 mph. Sin andamio con viento fuerte salvo que lo permita la persona competente.",
    },
    rule: {
      en: "29 CFR 1926.451(f)(12); the ladder figure is common practice",
      es: "29 CFR 1926.451(f)(12); la cifra para escaleras es práctica común",
    },
    applies: (situation) => worksOutdoors(situation) && (situation.gustMph ?? 0) >= 20,
  },
  lightning: {
    text: {
      en: "Thunder: everybody into a building or a hard-top vehicle, until 30 minutes after the last thunder.",
      es: "Truenos: todos a un edificio o vehículo cerrado, hasta 30 minutos después del último trueno.",
    },
    rule: {
      en: "OSHA and NOAA fact sheet 3863 (2016)",
      es: "hoja informativa 3863 de OSHA y NOAA (2016)",
    },
    applies: (situation) => worksOutdoors(situation) && situation.thunder === true,
  },
  heat: {
    text: {
      en: "Heat: water, shade, breaks; watch each other; new people start with short hours. Sun adds up to 15 °F.",
      es: "Calor: agua, sombra, descansos; cuidarse entre todos; los nuevos empiezan con pocas horas. El sol suma hasta 15 °F.",
    },
    rule: {
      en: "OSHA heat-index guide; the federal heat rule is a proposal (89 FR 70698); state rules bind",
      es: "guía de índice de calor de OSHA; la regla federal de calor es una propuesta (89 FR 70698); rigen las reglas estatales",
    },
    applies: (situation) => (situation.heatIndexF ?? situation.tempF ?? 0) >= 80,
  },
  cold: {
    text: {
      en: "Cold: dry layers, warm-up breaks, ice off ladders and planks. Skin freezes in 30 minutes at a wind chill of −18 °F.",
      es: "Frío: ropa seca en capas, pausas para calentarse, sin hielo en escaleras y tablones. La piel se congela en 30 minutos con −18 °F de sensación.",
    },
    rule: {
      en: "NWS wind chill chart; ACGIH cold-stress guidance, from memory",
      es: "tabla de sensación térmica del NWS; guía de ACGIH sobre frío, de memoria",
    },
    applies: (situation) => (situation.windChillF ?? situation.tempF ?? Infinity) <= 32,
  },
  lead: {
    text: {
      en: "Built before 1978 (or year unknown): treat paint as lead. Certified renovator, signs, ground cover 10 ft out, windows within 20 ft shut, no dust off the site.",
      es: "Construida antes de 1978 (o año desconocido): tratar la pintura como plomo. Renovador certificado, letreros, lona a 10 pies, ventanas a 20 pies cerradas, sin polvo fuera del sitio.",
    },
    rule: {
      en: "40 CFR 745.80 to .92",
      es: "40 CFR 745.80 a .92",
    },
    applies: ({ tradeIds, yearBuilt }) => worksAny(tradeIds, PAINT_DISTURBING) && leadRuleYear(yearBuilt),
  },
  asbestos: {
    text: {
      en: "Old cement siding may hold asbestos: test first. If it does, trained people take it off whole and wet, unbroken.",
      es: "El revestimiento viejo de cemento puede tener asbesto: analizar antes. Si lo tiene, gente capacitada lo quita entero y mojado, sin romperlo.",
    },
    rule: {
      en: "29 CFR 1926.1101 (Class II), from memory; state rules; the year 1981 is common practice",
      es: "29 CFR 1926.1101 (Clase II), de memoria; reglas estatales; el año 1981 es práctica común",
    },
    applies: ({ tradeIds, yearBuilt, asbestosPossible }) =>
      tradeIds.includes("tear-off") && (asbestosPossible ?? (yearBuilt === null || yearBuilt < 1981)),
  },
  silica: {
    text: {
      en: "Cutting stone, mortar or fiber cement: water or a dust collector on the saw, outdoors, nobody downwind.",
      es: "Al cortar piedra, mortero o fibrocemento: agua o colector de polvo en la sierra, al aire libre, nadie a favor del viento.",
    },
    rule: {
      en: "29 CFR 1926.1153 Table 1",
      es: "29 CFR 1926.1153, Tabla 1",
    },
    applies: ({ tradeIds }) => worksAny(tradeIds, DUSTY),
  },
  power: {
    text: {
      en: "Power service and meter: never loosen or cover; the utility or a licensed electrician does. Stay 10 ft from overhead lines.",
      es: "Acometida y medidor: nunca aflojar ni cubrir; lo hace la compañía o un electricista con licencia. A 10 pies de líneas aéreas.",
    },
    rule: {
      en: "29 CFR 1926.451(f)(6); utility rules",
      es: "29 CFR 1926.451(f)(6); reglas de la compañía eléctrica",
    },
    applies: ({ tradeIds, powerNear }) => worksAny(tradeIds, ON_THE_SKIN) && powerNear !== false,
  },
  "water-gas": {
    text: {
      en: "Hose bib and gas: a licensed plumber or gas fitter, with water or gas shut off.",
      es: "Llave de manguera y gas: plomero o gasista con licencia, con el agua o el gas cerrados.",
    },
    rule: {
      en: "state licence law; common practice",
      es: "ley estatal de licencias; práctica común",
    },
    applies: ({ tradeIds, waterOrGasNear }) => worksAny(tradeIds, AT_THE_BASE) && waterOrGasNear !== false,
  },
  dig: {
    text: {
      en: "Call 811 two to three business days before any digging or driven stake; hand-dig 2 ft each side of the marks.",
      es: "Llamar al 811 dos o tres días hábiles antes de excavar o clavar estacas; a mano a 2 pies de las marcas.",
    },
    rule: {
      en: "state one-call laws",
      es: "leyes estatales de aviso antes de excavar",
    },
    applies: ({ tradeIds, digging }) => digging ?? tradeIds.includes("stone"),
  },
};

/** The cautions that a day's work calls for, in the order of `cautionIds`. */
export function listCautions(situation: WorkSituation): readonly Caution[] {
  return cautionIds
    .filter((id) => CAUTIONS[id].applies(situation))
    .map((id) => ({ id, text: CAUTIONS[id].text, rule: CAUTIONS[id].rule }));
}

/** Whether the lead rule looks at a house of that year: built before 1978, or nobody knows. */
function leadRuleYear(yearBuilt: number | null): boolean {
  return yearBuilt === null || yearBuilt < 1978;
}

function worksAny(tradeIds: readonly string[], among: readonly TradeId[]): boolean {
  return among.some((id) => tradeIds.includes(id));
}

function worksOutdoors({ tradeIds }: WorkSituation): boolean {
  return tradeIds.some((id) => id !== "shop");
}
