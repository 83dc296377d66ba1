/**
 * Times that a material needs before the next step, as hours of lag between two tasks. Where a published range is given,
 * `lowHours` and `highHours` are its ends and `lagHours` is the planner's default. The maker's label comes first.
 */
import type { Text } from "./plan-format.js";
import type { TradeId } from "./trade-catalogue.js";

/** How a fact was found: read in the source or in a page that quotes it; known but not looked up; a rule of thumb. */
export type Confidence = "verified" | "from memory" | "common practice";

export interface Cure {
  readonly trade: TradeId;
  readonly what: Text;
  readonly lowHours: number;
  readonly highHours: number;
  readonly lagHours: number;
  readonly source: string;
  readonly confidence: Confidence;
}

export const cures = {
  "scratch-coat": {
    trade: "stone",
    what: {
      en: "Scratch coat over rigid sheathing, before stone is set",
      es: "Capa rayada sobre tablero rígido, antes de colocar la piedra",
    },
    lowHours: 24,
    highHours: 48,
    lagHours: 24,
    source: "ASTM C1780 practice: stone the next day",
    confidence: "from memory",
  },
  "scratch-coat-open-studs": {
    trade: "stone",
    what: {
      en: "Scratch coat over open studs, before stone is set",
      es: "Capa rayada sobre montantes sin tablero, antes de colocar la piedra",
    },
    lowHours: 48,
    highHours: 48,
    lagHours: 48,
    source: "a stone maker's installation table",
    confidence: "verified",
  },
  "stucco-base-coat": {
    trade: "stone",
    what: { en: "Stucco base coat, kept moist", es: "Capa base de estuco, mantenida húmeda" },
    lowHours: 48,
    highHours: 48,
    lagHours: 48,
    source: "Portland-cement stucco practice, ASTM C926",
    confidence: "verified",
  },
  "fresh-stone": {
    trade: "stone",
    what: { en: "New stone, kept from rain and frost", es: "Piedra nueva, protegida de lluvia y helada" },
    lowHours: 24,
    highHours: 48,
    lagHours: 24,
    source: "industry installation guide for ASTM C1780",
    confidence: "from memory",
  },
  "masonry-sealer": {
    trade: "stone",
    what: { en: "Mortar, before it is sealed or washed", es: "Mortero, antes de sellarlo o lavarlo" },
    lowHours: 672,
    highHours: 672,
    lagHours: 672,
    source: "makers' practice: 28 days",
    confidence: "from memory",
  },
  "concrete-light-load": {
    trade: "stone",
    what: { en: "Concrete patch, before a light load", es: "Parche de concreto, antes de carga ligera" },
    lowHours: 24,
    highHours: 72,
    lagHours: 72,
    source: "ACI 308 and 306",
    confidence: "from memory",
  },
  "acrylic-caulk": {
    trade: "caulk",
    what: { en: "Acrylic caulk, before paint", es: "Sellador acrílico, antes de pintar" },
    lowHours: 1,
    highHours: 8,
    lagHours: 4,
    source: "makers' labels: 2 to 4 hours is typical; twice as long near 50 °F",
    confidence: "verified",
  },
  "silicone-caulk": {
    trade: "caulk",
    what: {
      en: "Silicone caulk, cured (paint does not hold on it)",
      es: "Sellador de silicona, curado (la pintura no se adhiere)",
    },
    lowHours: 24,
    highHours: 48,
    lagHours: 48,
    source: "makers' labels",
    confidence: "verified",
  },
  "polyurethane-caulk": {
    trade: "caulk",
    what: {
      en: "Polyurethane or hybrid caulk, before paint",
      es: "Sellador de poliuretano o híbrido, antes de pintar",
    },
    lowHours: 24,
    highHours: 24,
    lagHours: 24,
    source: "makers' labels: at least 24 hours",
    confidence: "verified",
  },
  "caulk-dry": {
    trade: "caulk",
    what: { en: "Fresh caulk, kept dry", es: "Sellador fresco, mantenido seco" },
    lowHours: 24,
    highHours: 24,
    lagHours: 24,
    source: "makers' labels: cured after about 24 hours",
    confidence: "verified",
  },
  "latex-recoat": {
    trade: "caulk",
    what: {
      en: "Latex paint at 70 °F, before the second coat",
      es: "Pintura látex a 70 °F, antes de la segunda mano",
    },
    lowHours: 4,
    highHours: 4,
    lagHours: 4,
    source: "makers' bulletins",
    confidence: "from memory",
  },
  "treated-trim": {
    trade: "caulk",
    what: {
      en: "Pressure-treated trim, dry enough for paint (water drop test decides)",
      es: "Moldura tratada a presión, seca para pintar (decide la prueba de la gota)",
    },
    lowHours: 336,
    highHours: 4380,
    lagHours: 336,
    source: "wood-finish guidance: two weeks to six months",
    confidence: "verified",
  },
} as const satisfies Readonly<Record<string, Cure>>;

export type CureId = keyof typeof cures;

/** The default lag, in elapsed hours. */
export function lagHoursOf(cure: CureId): number {
  return cures[cure].lagHours;
}
