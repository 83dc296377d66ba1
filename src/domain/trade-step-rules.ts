/**
 * Order and checks inside one trade's work, and what belongs before and after all work at a house, as data.
 */
import type { StepOrder, SiteOrder } from "./trade-order.js";

export const stepOrderRules: readonly StepOrder[] = [
  {
    kind: "steps",
    id: "S4",
    trade: "reframe",
    rule: {
      en: "Temporary support before a stud or header of a bearing opening is cut.",
      es: "Apuntalar antes de cortar un montante o dintel de una abertura de carga.",
    },
    why: {
      en: "The load must have somewhere to go; where in doubt, an engineer decides.",
      es: "La carga debe tener por dónde bajar; en caso de duda decide un ingeniero.",
    },
    source: "IRC R602.7 (headers)",
    confidence: "from memory",
  },
  {
    kind: "steps",
    id: "S7",
    trade: "windows",
    rule: {
      en: "Sill pan with slope and back dam before the window is set.",
      es: "Bandeja del alféizar con pendiente y tope trasero antes de colocar la ventana.",
    },
    why: {
      en: "It cannot be added afterwards; back dam at least 1/4 in.",
      es: "Después no se puede poner; tope trasero de al menos 1/4 pulg.",
    },
    source: "DOE Building America guide",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "S8",
    trade: "windows",
    rule: {
      en: "Sealant behind head and jamb flanges only; the bottom flange stays unsealed.",
      es: "Sellador solo detrás de las pestañas superior y laterales; la inferior queda sin sellar.",
    },
    why: {
      en: "Water that gets past the window must drain out at the sill.",
      es: "El agua que pase la ventana debe salir por el alféizar.",
    },
    source: "maker's instructions; usual trade sequence",
    confidence: "common practice",
  },
  {
    kind: "steps",
    id: "S9",
    trade: "windows",
    rule: {
      en: "Window set, plumb and fastened before the jamb flashing.",
      es: "Ventana colocada, a plomo y fijada antes del tapajuntas lateral.",
    },
    why: { en: "The flashing covers the flange.", es: "El tapajuntas cubre la pestaña." },
    source: "ASTM E2112, flashing over the flange",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "S10",
    trade: "windows",
    rule: { en: "Jamb flashing before head flashing.", es: "Tapajuntas laterales antes del superior." },
    why: {
      en: "The head laps over the jambs, the jambs over the sill pan.",
      es: "El superior traslapa los laterales, y estos la bandeja.",
    },
    source: "IRC R703.4; DOE building-science guide",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "S11",
    trade: "windows",
    rule: {
      en: "Head flashing before the barrier's flap is folded down over it and taped.",
      es: "Tapajuntas superior antes de bajar la solapa de la barrera y encintarla.",
    },
    why: {
      en: "Water behind the barrier must land on top of the head flashing.",
      es: "El agua detrás de la barrera debe caer sobre el tapajuntas superior.",
    },
    source: "ASTM E2112",
    confidence: "from memory",
  },
  {
    kind: "steps",
    id: "S12",
    trade: "windows",
    rule: {
      en: "One order for one opening: barrier first or window first, never both.",
      es: "Un solo orden por abertura: primero barrera o primero ventana, nunca mezclados.",
    },
    why: {
      en: "With the window first, the barrier goes behind the sill flange and over jambs and head.",
      es: "Si va primero la ventana, la barrera pasa detrás de la pestaña inferior y sobre las demás.",
    },
    source: "ASTM E2112",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "S23",
    trade: "trim",
    rule: {
      en: "Corner flashed 10 in. each way before the corner post.",
      es: "Esquina protegida 10 pulg. a cada lado antes del esquinero.",
    },
    why: { en: "Corners leak first.", es: "Las esquinas son las primeras en filtrar." },
    source: "vinyl siding installation manual",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "C6",
    trade: "trim",
    rule: {
      en: "Cap flashing over a mount block before its channel.",
      es: "Tapajuntas sobre el bloque de montaje antes de su canal.",
    },
    why: {
      en: "The channel would keep the cap from lapping behind the barrier.",
      es: "El canal impediría meter el tapajuntas detrás de la barrera.",
    },
    source: "usual trade sequence",
    confidence: "common practice",
  },
  {
    kind: "steps",
    id: "S24",
    trade: "siding",
    rule: {
      en: "Siding from the bottom to the top; finish trim under windows and eaves last.",
      es: "Revestimiento de abajo hacia arriba; al final el remate bajo ventanas y aleros.",
    },
    why: { en: "Each course locks on the one below.", es: "Cada hilada se engancha en la de abajo." },
    source: "vinyl siding installation manual",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "C5",
    trade: "stone",
    rule: {
      en: "Mount blocks at the base before the stone round them.",
      es: "Bloques de montaje en la base antes de la piedra que los rodea.",
    },
    why: {
      en: "Stone is cut to the block; the block cannot be flashed once stone stands round it.",
      es: "La piedra se corta al bloque; con la piedra puesta ya no se puede sellar el bloque.",
    },
    source: "usual trade sequence",
    confidence: "common practice",
  },
  {
    kind: "steps",
    id: "S18",
    trade: "stone",
    rule: {
      en: "Lath fastened into framing before the scratch coat; none of it may show.",
      es: "Malla fijada al marco antes de la capa rayada; no debe quedar visible.",
    },
    why: {
      en: "The coat, 1/2 to 3/4 in., hangs on the lath.",
      es: "La capa, de 1/2 a 3/4 pulg., se sostiene de la malla.",
    },
    source: "ASTM C1063; a stone maker's instructions",
    confidence: "verified",
  },
  {
    kind: "steps",
    id: "S20",
    trade: "stone",
    rule: {
      en: "Scratch coat cured before stone is set.",
      es: "Capa rayada curada antes de colocar la piedra.",
    },
    why: {
      en: "Stone slides and bonds badly on a green coat.",
      es: "La piedra resbala y adhiere mal sobre una capa fresca.",
    },
    source: "ASTM C1780 and C926 practice",
    confidence: "from memory",
  },
  {
    kind: "steps",
    id: "S30",
    trade: "caulk",
    rule: {
      en: "Do not caulk siding to its channels, weep holes, the bottom window flange or the weep screed.",
      es: "No sellar el revestimiento a sus canales, los drenajes, la pestaña inferior de la ventana ni la guía de goteo.",
    },
    why: {
      en: "They are the ways by which water leaves and siding moves.",
      es: "Por ahí sale el agua y se mueve el revestimiento.",
    },
    source: "siding-trade guidance",
    confidence: "verified",
  },
];

export const siteOrderRules: readonly SiteOrder[] = [
  {
    kind: "site",
    id: "S1",
    rule: {
      en: "Lead and asbestos checks, permit, utility marks and meter arrangements before tear-off.",
      es: "Revisión de plomo y asbesto, permiso, marcas de servicios y arreglos del medidor antes del desmontaje.",
    },
    why: {
      en: "Disturbing the wall is what the rules are about, and it cannot be undone.",
      es: "Las reglas tratan de alterar la pared, y eso no se puede deshacer.",
    },
    source: "40 CFR 745.80 to .90; 40 CFR 61.145; state one-call laws",
    confidence: "from memory",
  },
  {
    kind: "site",
    id: "S5b",
    rule: {
      en: "Where the permit asks for a frame inspection, it comes before the opening is covered: book it for the day the wall is open.",
      es: "Si el permiso pide inspección del marco, va antes de cubrir: programarla para el día en que la pared está abierta.",
    },
    why: {
      en: "It cannot be seen afterwards, and the wall must be closed by dark.",
      es: "Después no se ve, y la pared debe quedar cerrada antes de oscurecer.",
    },
    source: "IRC R109.1.4",
    confidence: "verified",
  },
  {
    kind: "site",
    id: "S15",
    rule: {
      en: "Utility, electrician or plumber releases meter, mast or fixture before the block at that spot.",
      es: "La compañía, el electricista o el plomero libera medidor, mástil o accesorio antes de poner el bloque allí.",
    },
    why: {
      en: "It is licensed work and needs the service shut off.",
      es: "Es trabajo con licencia y requiere cortar el servicio.",
    },
    source: "state licence law and utility rules",
    confidence: "common practice",
  },
  {
    kind: "site",
    id: "S19",
    rule: {
      en: "Lath inspection before the scratch coat, where the local code has adopted it.",
      es: "Inspección de la malla antes de la capa rayada, donde el código local la exige.",
    },
    why: { en: "The lath is hidden afterwards.", es: "Después la malla queda oculta." },
    source: "local additions under IRC R109.1.5",
    confidence: "verified",
  },
  {
    kind: "site",
    id: "S29",
    rule: {
      en: "Caulk and paint before the punch list, the magnet sweep and the final inspection.",
      es: "Sellar y pintar antes de la lista final, el barrido con imán y la inspección final.",
    },
    why: {
      en: "The last look must see finished work.",
      es: "La última revisión debe ver el trabajo terminado.",
    },
    source: "IRC R109.1.6",
    confidence: "verified",
  },
  {
    kind: "site",
    id: "C7",
    rule: { en: "Cleanup ends every day, inside the light.", es: "La limpieza termina cada día, con luz." },
    why: {
      en: "Nails and scrap hurt people who live there, and nobody finds them in the dark.",
      es: "Los clavos y restos lastiman a quienes viven allí, y a oscuras nadie los encuentra.",
    },
    source: "29 CFR 1926.25 asks for clear work areas; every day is common practice",
    confidence: "common practice",
  },
];
