/**
 * The trades that a new company starts with, ready for a company file: eleven outdoors, and the shop, which needs no light.
 * Every number is a default to edit. A limit is the last value at which the trade still works; beside each stands where it
 * comes from. Setup and cleanup minutes of all trades are common practice, to be replaced by a crew's own.
 * Local code and the maker's instructions come before any of it.
 */
import type { Trade } from "./company-schema.js";

export const tradeIds = [
  "tear-off",
  "sheathing",
  "reframe",
  "wrb",
  "windows",
  "trim",
  "siding",
  "stone",
  "caulk",
  "roof-edge",
  "gutters",
  "shop",
] as const;
export type TradeId = (typeof tradeIds)[number];

type CatalogueTrade = Omit<Trade, "id">;

const NO_LIMITS: Trade["limits"] = {
  minF: null,
  maxF: null,
  gustMph: null,
  rainInchesPerHour: null,
  rainChancePct: null,
};

const entries = {
  "tear-off": {
    name: { en: "Tear-off", es: "Desmontaje" },
    stamp: "TO",
    outdoor: true,
    setupMinutes: 30,
    cleanupMinutes: 40,
    limits: {
      minF: null,
      maxF: null,
      gustMph: 25, // ladder work stops at 25 mph: common practice
      rainInchesPerHour: 0, // no rain on an open wall: common practice
      rainChancePct: 49, // an open wall stops at 50 %: common practice
    },
  },
  sheathing: {
    name: { en: "Sheathing", es: "Entablado" },
    stamp: "SH",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 30,
    limits: {
      minF: null,
      maxF: null,
      gustMph: 30, // "high wind" when handling material: 29 CFR 1910.269(x) and 1926.968, notes
      rainInchesPerHour: 0, // open wall: common practice
      rainChancePct: 49, // open wall: common practice
    },
  },
  reframe: {
    name: { en: "Reframing", es: "Reenmarcado" },
    stamp: "RF",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 30,
    limits: {
      minF: null,
      maxF: null,
      gustMph: 30, // "high wind" when handling material: 29 CFR 1910.269(x) and 1926.968, notes
      rainInchesPerHour: 0, // open wall: common practice
      rainChancePct: 49, // open wall: common practice
    },
  },
  wrb: {
    name: { en: "Weather barrier", es: "Barrera climática" },
    stamp: "WB",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 20,
    limits: {
      minF: 25, // cold-rated self-adhered membrane (AAMA 711 products): from memory; ordinary ones need 40 to 50 °F
      maxF: null,
      gustMph: 24, // wide rolls sail from 25 mph: common practice
      rainInchesPerHour: 0, // tape needs a dry surface; open wall: common practice
      rainChancePct: 49, // open wall: common practice
    },
  },
  windows: {
    name: { en: "Windows", es: "Ventanas" },
    stamp: "WN",
    outdoor: true,
    setupMinutes: 30,
    cleanupMinutes: 30,
    limits: {
      minF: 25, // cold-rated flashing membrane: from memory; ordinary ones need 40 to 50 °F
      maxF: null,
      gustMph: 25, // window units stop above 25 to 30 mph: common practice
      rainInchesPerHour: 0, // open wall: common practice
      rainChancePct: 49, // open wall: common practice
    },
  },
  trim: {
    name: { en: "Trim and blocks", es: "Molduras y bloques" },
    stamp: "TR",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 30,
    limits: {
      minF: 20, // vinyl and PVC turn brittle below 20 to 25 °F: common practice
      maxF: null,
      gustMph: 25, // ladder work: common practice
      rainInchesPerHour: 0.02, // a drizzle: common practice
      rainChancePct: 60, // common practice
    },
  },
  siding: {
    name: { en: "Siding", es: "Revestimiento" },
    stamp: "SD",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 30,
    limits: {
      minF: 20, // vinyl turns brittle below 20 to 25 °F: common practice
      maxF: null,
      gustMph: 25, // 12 ft panels: common practice
      rainInchesPerHour: 0.02, // a drizzle: common practice
      rainChancePct: 60, // common practice
    },
  },
  stone: {
    name: { en: "Stone", es: "Piedra" },
    stamp: "ST",
    outdoor: true,
    setupMinutes: 30,
    cleanupMinutes: 40,
    limits: {
      minF: 40, // 40 °F and rising; below it TMS 602 asks for cold-weather steps
      maxF: 100, // above it TMS 602 asks for hot-weather steps; to stop there is common practice
      gustMph: 25, // scaffold and ladder work: common practice (29 CFR 1926.451(f)(12) gives no number)
      rainInchesPerHour: 0, // no rain on fresh mortar for 24 h: makers' guides, from memory
      rainChancePct: 49, // the same: common practice
    },
  },
  caulk: {
    name: { en: "Caulk and paint", es: "Sellador y pintura" },
    stamp: "CK",
    outdoor: true,
    setupMinutes: 15,
    cleanupMinutes: 20,
    limits: {
      minF: 40, // sealant, 40 to 90 °F: UFGS 07 92 00; ordinary latex paint needs 50 °F (makers' bulletins)
      maxF: 90, // the same
      gustMph: 25, // ladder work: common practice
      rainInchesPerHour: 0, // surfaces dry to the touch: UFGS 07 92 00
      rainChancePct: 40, // plan 24 h dry: common practice
    },
  },
  "roof-edge": {
    name: { en: "Roof edge", es: "Borde de techo" },
    stamp: "RO",
    outdoor: true,
    setupMinutes: 30,
    cleanupMinutes: 30,
    limits: {
      minF: 40, // shingles are stiff below 40 °F, and no ice or frost to walk on: asphalt roofing industry
      maxF: null,
      gustMph: 25, // ladder work: common practice
      rainInchesPerHour: 0, // open roof: common practice
      rainChancePct: 49, // open roof: common practice
    },
  },
  gutters: {
    name: { en: "Gutters", es: "Canaletas" },
    stamp: "GU",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 20,
    limits: {
      minF: 20, // common practice
      maxF: null,
      gustMph: 25, // ladder work, long pieces: common practice
      rainInchesPerHour: 0.02, // a drizzle: common practice
      rainChancePct: 60, // common practice
    },
  },
  shop: {
    name: { en: "Shop and indoor work", es: "Taller y trabajo interior" },
    stamp: "SP",
    outdoor: false,
    setupMinutes: 10,
    cleanupMinutes: 15,
    limits: NO_LIMITS,
  },
} as const satisfies Readonly<Record<TradeId, CatalogueTrade>>;

/** All trades in build order, the shop last. */
export const tradeCatalogue: readonly (Trade & { readonly id: TradeId })[] = tradeIds.map((id) => ({
  id,
  ...entries[id],
}));

/** Whether a company's trade is one of the catalogue's, whose rules, steps and cautions then apply. */
export function isTradeId(id: string): id is TradeId {
  // Widening a list of literals to strings loses nothing.
  return (tradeIds as readonly string[]).includes(id);
}
