/**
 * The order between trades in one area, as data. The words "common practice" mark a rule without a published source.
 */
import type { Confidence } from "./cures.js";
import type { Text } from "./plan-format.js";
import type { TradeId } from "./trade-catalogue.js";
import type { TradeOrder } from "./trade-order.js";

export const tradeOrderRules: readonly TradeOrder[] = [
  order(
    "S2",
    "tear-off",
    "sheathing",
    {
      en: "Tear-off before the sheathing is inspected and repaired.",
      es: "Desmontaje antes de revisar y reparar el entablado.",
    },
    {
      en: "Rot and missing flashing are hidden until the wall is open.",
      es: "La pudrición y los tapajuntas que faltan no se ven hasta abrir la pared.",
    },
    "usual trade sequence",
    "common practice",
  ),
  order(
    "S5a",
    "tear-off",
    "reframe",
    { en: "Tear-off before an opening is reframed.", es: "Desmontaje antes de reenmarcar una abertura." },
    {
      en: "The old framing must be bare to be judged and cut.",
      es: "El marco viejo debe quedar a la vista para revisarlo y cortarlo.",
    },
    "usual trade sequence",
    "common practice",
  ),
  order(
    "S3",
    "sheathing",
    "wrb",
    {
      en: "Sheathing sound, dry and nailed off before the weather barrier.",
      es: "Entablado sano, seco y clavado antes de la barrera climática.",
    },
    {
      en: "The barrier must lie on a sound, dry wall; panels need a 1/8 in. gap all round.",
      es: "La barrera va sobre pared sana y seca; los tableros llevan 1/8 pulg. de separación.",
    },
    "MSV-TEC-001, citing APA",
    "verified",
  ),
  order(
    "S5",
    "reframe",
    "wrb",
    {
      en: "Opening reframed before it is wrapped and gets its sill pan.",
      es: "Abertura reenmarcada antes de envolverla y poner la bandeja del alféizar.",
    },
    {
      en: "Pan and wrap are cut to the finished rough opening; where a permit asks for it, the frame is inspected before it is covered.",
      es: "La bandeja y la barrera se cortan a la abertura terminada; si el permiso lo pide, se inspecciona antes de cubrir.",
    },
    "IRC R109.1.4",
    "verified",
  ),
  order(
    "S6",
    "wrb",
    "windows",
    {
      en: "Weather barrier below the opening and sill pan before the window.",
      es: "Barrera bajo la abertura y bandeja del alféizar antes de la ventana.",
    },
    {
      en: "The pan laps over the barrier below and drains to its face; it cannot be added later.",
      es: "La bandeja traslapa la barrera de abajo y drena hacia afuera; después ya no se puede poner.",
    },
    "ASTM E2112 (barrier first; its other order, window first, is never mixed with it on one opening); DOE building-science guide",
    "verified",
  ),
  order(
    "C1",
    "windows",
    "siding",
    { en: "Windows before siding.", es: "Ventanas antes del revestimiento." },
    {
      en: "The window's flange and flashing lie behind the siding.",
      es: "La pestaña y los tapajuntas de la ventana quedan detrás del revestimiento.",
    },
    "usual trade sequence",
    "common practice",
  ),
  order(
    "C2",
    "windows",
    "trim",
    { en: "Windows before their casing and channels.", es: "Ventanas antes de sus molduras y canales." },
    {
      en: "Trim covers the flashed flange and is cut to the window that is there.",
      es: "La moldura cubre la pestaña sellada y se corta a la ventana puesta.",
    },
    "usual trade sequence",
    "common practice",
  ),
  order(
    "S13",
    "wrb",
    "siding",
    {
      en: "Weather barrier before any siding: upper over lower 2 in., joints 6 in.",
      es: "Barrera climática antes de cualquier revestimiento: traslape de 2 pulg., juntas de 6 pulg.",
    },
    {
      en: "Water behind the siding must run down the face of the barrier.",
      es: "El agua detrás del revestimiento debe correr por la cara de la barrera.",
    },
    "IRC R703.2",
    "verified",
  ),
  order(
    "C3",
    "wrb",
    "trim",
    {
      en: "Barrier, and membrane at the wall base, before the mount block.",
      es: "Barrera y membrana al pie de la pared antes del bloque de montaje.",
    },
    {
      en: "The block is flashed into the layer behind it, which cannot be lapped afterwards.",
      es: "El bloque se integra a la capa de atrás, que después no se puede traslapar.",
    },
    "usual trade sequence; IRC R703.4 asks for flashing at penetrations",
    "common practice",
  ),
  order(
    "C4",
    "wrb",
    "stone",
    {
      en: "Membrane at the wall base, and two barrier layers, before stone.",
      es: "Membrana al pie de la pared y dos capas de barrera antes de la piedra.",
    },
    {
      en: "Stone holds water against the wall; the screed's leg goes behind the barrier and drains out.",
      es: "La piedra retiene agua contra la pared; la pestaña de la guía va detrás de la barrera y drena hacia afuera.",
    },
    "usual trade sequence; IRC R703.7.3 through R703.12.3 for the two layers",
    "common practice",
  ),
  order(
    "S14",
    "trim",
    "siding",
    {
      en: "Mount blocks, corner posts, starter strip and channels before the siding that meets them.",
      es: "Bloques, esquineros, tira de arranque y canales antes del revestimiento que llega a ellos.",
    },
    {
      en: "Panels slide or lock into them; a cut made later breaks the lap.",
      es: "Los paneles encajan en ellos; un corte posterior rompe el traslape.",
    },
    "vinyl siding installation manual (S22); IRC R703.4",
    "verified",
  ),
  order(
    "S21",
    "roof-edge",
    "siding",
    {
      en: "Step flashing, kick-out and drip edge before the siding beside the roof.",
      es: "Tapajuntas escalonados, desviador y goterón antes del revestimiento junto al techo.",
    },
    {
      en: "The flashing leg lies behind the barrier and in front of the siding below.",
      es: "La pestaña queda detrás de la barrera y delante del revestimiento de abajo.",
    },
    "IRC R703.4, R903.2.1, R905.2.8.3 (S26)",
    "verified",
  ),
  order(
    "S25",
    "stone",
    "siding",
    {
      en: "Stone skirt with its sill flashing before the siding above it.",
      es: "Zócalo de piedra con su tapajuntas antes del revestimiento de encima.",
    },
    {
      en: "The siding laps over the flashing on top of the stone (some crews leave the bottom course off instead).",
      es: "El revestimiento traslapa el tapajuntas sobre la piedra (algunas cuadrillas dejan pendiente la primera hilada).",
    },
    "industry details",
    "common practice",
  ),
  order(
    "S27",
    "roof-edge",
    "gutters",
    { en: "Roof edge and fascia before gutters.", es: "Borde de techo y fascia antes de las canaletas." },
    {
      en: "The gutter hangs on finished fascia under the drip edge, and ladders would crush it.",
      es: "La canaleta cuelga de la fascia terminada bajo el goterón, y las escaleras la aplastarían.",
    },
    "IRC R905.2.8.5 for the drip edge; gutters last is common practice",
    "common practice",
  ),
  order(
    "S28a",
    "siding",
    "caulk",
    {
      en: "Siding complete and dry before caulk and paint.",
      es: "Revestimiento completo y seco antes de sellar y pintar.",
    },
    {
      en: "Sealant needs the final joint and a dry surface.",
      es: "El sellador necesita la junta final y una superficie seca.",
    },
    "ASTM C1193",
    "from memory",
  ),
  order(
    "S28b",
    "trim",
    "caulk",
    {
      en: "Trim complete and dry before caulk and paint.",
      es: "Molduras completas y secas antes de sellar y pintar.",
    },
    {
      en: "Sealant needs the final joint; paint goes over paintable sealant.",
      es: "El sellador necesita la junta final; la pintura va sobre sellador pintable.",
    },
    "ASTM C1193",
    "from memory",
  ),
  order(
    "S28c",
    "stone",
    "caulk",
    {
      en: "Stone set and grouted before the joints to it are sealed.",
      es: "Piedra colocada y rejuntada antes de sellar sus juntas.",
    },
    {
      en: "Sealant needs the final joint and a dry surface.",
      es: "El sellador necesita la junta final y una superficie seca.",
    },
    "ASTM C1193",
    "from memory",
  ),
];

function order(
  id: string,
  before: TradeId,
  after: TradeId,
  rule: Text,
  why: Text,
  source: string,
  confidence: Confidence,
): TradeOrder {
  return { kind: "trades", id, before, after, rule, why, source, confidence };
}
