/**
 * The day's steps of the trades that work on a closed wall, and the shop. Common practice.
 */
import type { TradeStep } from "./trade-step.js";

export const finishSteps = {
  trim: [
    {
      step: {
        en: "Blocks and fixtures only where the licensed trade has released them.",
        es: "Bloques y accesorios solo donde el oficio con licencia los liberó.",
      },
      why: {
        en: "Meter, power, water and gas are not ours.",
        es: "Medidor, luz, agua y gas no son nuestros.",
      },
    },
    {
      step: {
        en: "Mount block, cap flashing over it, then its channel.",
        es: "Bloque de montaje, tapajuntas encima, luego su canal.",
      },
      why: { en: "The cap laps behind the barrier.", es: "El tapajuntas entra detrás de la barrera." },
    },
    {
      step: {
        en: "Flash corners 10 in. each way; hang corner posts from the top slot.",
        es: "Proteger esquinas 10 pulg. a cada lado; colgar esquineros de la ranura superior.",
      },
      why: {
        en: "Corners leak first, and posts must move.",
        es: "Las esquinas filtran primero y los postes se mueven.",
      },
    },
    {
      step: { en: "Starter strip level all round.", es: "Tira de arranque nivelada en todo el contorno." },
      why: { en: "Every course repeats its error.", es: "Cada hilada repite su error." },
    },
  ],
  siding: [
    {
      step: {
        en: "Check barrier, flashing and blocks before covering them.",
        es: "Revisar barrera, tapajuntas y bloques antes de cubrirlos.",
      },
      why: { en: "This is the last look at them.", es: "Es la última vez que se ven." },
    },
    {
      step: {
        en: "Bottom to top; lock each course, nail loose, every 16 in. or less.",
        es: "De abajo hacia arriba; enganchar, clavar flojo, cada 16 pulg. o menos.",
      },
      why: {
        en: "Vinyl moves about 1/2 in. over a season.",
        es: "El vinilo se mueve cerca de 1/2 pulg. por temporada.",
      },
    },
    {
      step: {
        en: "End gaps 1/4 in.; 3/8 in. below 40 °F.",
        es: "Separación en extremos 1/4 pulg.; 3/8 pulg. bajo 40 °F.",
      },
      why: { en: "Cold panels grow.", es: "Los paneles fríos crecen." },
    },
    {
      step: {
        en: "Finish trim under windows and eaves; no caulk at channels.",
        es: "Remate bajo ventanas y aleros; sin sellador en canales.",
      },
      why: { en: "Channels drain and let it move.", es: "Los canales drenan y dejan moverse." },
    },
  ],
  stone: [
    {
      step: {
        en: "Check clearance: 4 in. to earth, 2 in. to paving.",
        es: "Revisar separación: 4 pulg. a tierra, 2 pulg. a pavimento.",
      },
      why: {
        en: "Stone in the dirt wicks water up the wall.",
        es: "La piedra en tierra sube agua a la pared.",
      },
    },
    {
      step: {
        en: "Two barrier layers, screed, lath into framing.",
        es: "Dos capas de barrera, guía, malla al marco.",
      },
      why: {
        en: "The inner layer drains, the outer bonds.",
        es: "La interior drena, la exterior se adhiere.",
      },
    },
    {
      step: {
        en: "Scratch coat over all the lath; let it cure.",
        es: "Capa rayada sobre toda la malla; dejar curar.",
      },
      why: { en: "Stone slides on a green coat.", es: "La piedra resbala sobre capa fresca." },
    },
    {
      step: {
        en: "Set full-backed from the corners; keep the weep screed clear.",
        es: "Colocar con respaldo lleno desde las esquinas; guía de goteo libre.",
      },
      why: { en: "Voids fill with water and freeze.", es: "Los huecos se llenan de agua y se congelan." },
    },
    {
      step: {
        en: "Cover fresh work from rain and frost for 24 hours.",
        es: "Cubrir lo fresco de lluvia y helada por 24 horas.",
      },
      why: { en: "Washed or frozen mortar does not hold.", es: "El mortero lavado o helado no agarra." },
    },
  ],
  caulk: [
    {
      step: {
        en: "Touch-test: dry, clean, no frost, 5 °F above the dew point.",
        es: "Prueba al tacto: seco, limpio, sin escarcha, 5 °F sobre el punto de rocío.",
      },
      why: { en: "Sealant and paint let go of damp.", es: "Sellador y pintura se sueltan de lo húmedo." },
    },
    {
      step: {
        en: "Backer rod in wide joints; tool the bead.",
        es: "Cordón de respaldo en juntas anchas; alisar.",
      },
      why: { en: "A bead must stick to two sides only.", es: "El cordón debe pegar solo en dos lados." },
    },
    {
      step: {
        en: "Leave weep holes, siding channels and bottom flanges open.",
        es: "Dejar abiertos drenajes, canales y pestañas inferiores.",
      },
      why: { en: "They let water out.", es: "Por ahí sale el agua." },
    },
    {
      step: {
        en: "Paint after the caulk's own time; then the second coat's.",
        es: "Pintar tras el tiempo del sellador; luego el de la segunda mano.",
      },
      why: { en: "Early paint cracks.", es: "La pintura temprana se agrieta." },
    },
  ],
  "roof-edge": [
    {
      step: {
        en: "Tie off before stepping up; no ice, frost or snow.",
        es: "Amarrarse antes de subir; sin hielo, escarcha ni nieve.",
      },
      why: {
        en: "There is nothing to hold on to at an eave.",
        es: "En un alero no hay de dónde agarrarse.",
      },
    },
    {
      step: { en: "Open only what is dried in today.", es: "Abrir solo lo que hoy se protege." },
      why: { en: "Rain finds an open edge overnight.", es: "La lluvia encuentra el borde abierto de noche." },
    },
    {
      step: {
        en: "Underlayment, drip edge, step flashing 4 × 4 in., kick-out.",
        es: "Membrana, goterón, tapajuntas 4 × 4 pulg., desviador.",
      },
      why: {
        en: "The kick-out keeps roof water out of the wall.",
        es: "El desviador saca de la pared el agua del techo.",
      },
    },
  ],
  gutters: [
    {
      step: { en: "Check fascia and drip edge.", es: "Revisar fascia y goterón." },
      why: { en: "Gutter hangs on them.", es: "La canaleta cuelga de ellos." },
    },
    {
      step: {
        en: "Snap the fall; hang with the back under the drip edge.",
        es: "Marcar la caída; colgar con el respaldo bajo el goterón.",
      },
      why: { en: "Water must not run behind.", es: "El agua no debe correr por detrás." },
    },
    {
      step: {
        en: "Downspouts clear of stone and walks; run water through.",
        es: "Bajantes lejos de piedra y pasos; probar con agua.",
      },
      why: { en: "Splash at the base soaks the wall.", es: "La salpicadura en la base moja la pared." },
    },
  ],
  shop: [
    {
      step: {
        en: "Cut and label what the next days need, by house.",
        es: "Cortar y rotular lo de los próximos días, por casa.",
      },
      why: { en: "Nobody hunts for pieces in the rain.", es: "Nadie busca piezas bajo la lluvia." },
    },
    {
      step: { en: "Pre-bend metal and prime ends.", es: "Doblar metal e imprimar extremos." },
      why: {
        en: "What is bent on a rain day is not bent on a dry one.",
        es: "Lo doblado en día de lluvia no se dobla en día seco.",
      },
    },
    {
      step: {
        en: "Sharpen, charge, load for the morning.",
        es: "Afilar, cargar baterías, cargar el camión.",
      },
      why: { en: "The day starts at the house.", es: "El día empieza en la casa." },
    },
  ],
} as const satisfies Readonly<Record<string, readonly TradeStep[]>>;
