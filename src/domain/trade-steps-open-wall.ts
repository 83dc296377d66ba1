/**
 * The day's steps of the trades that work on an open wall. Common practice.
 */
import type { TradeStep } from "./trade-step.js";

export const openWallSteps = {
  "tear-off": [
    {
      step: {
        en: "Walk the wall: wires, meter, hose bib, vents; lay ground cover.",
        es: "Recorrer la pared: cables, medidor, llave, respiraderos; poner lona.",
      },
      why: {
        en: "What stays must be known before anything comes off.",
        es: "Hay que saber qué se queda antes de quitar.",
      },
    },
    {
      step: {
        en: "Open only what can be closed before tools-down.",
        es: "Abrir solo lo que se cierra antes de guardar herramientas.",
      },
      why: {
        en: "A wall open at dark is a wall open in the rain.",
        es: "Una pared abierta de noche es una pared abierta a la lluvia.",
      },
    },
    {
      step: {
        en: "Strip from the top down; pull or flatten every nail.",
        es: "Quitar de arriba hacia abajo; sacar o doblar cada clavo.",
      },
      why: {
        en: "Debris falls away from the work, and barrier tears on nails.",
        es: "Los restos caen lejos, y la barrera se rompe con clavos.",
      },
    },
    {
      step: {
        en: "Probe the sheathing at sills, corners and roof lines; photograph rot.",
        es: "Probar el entablado en alféizares, esquinas y techos; fotografiar pudrición.",
      },
      why: {
        en: "Damage found now is reported before it is covered.",
        es: "El daño se reporta antes de cubrirlo.",
      },
    },
  ],
  sheathing: [
    {
      step: {
        en: "Mark everything soft back to sound wood on framing.",
        es: "Marcar lo blando hasta madera sana sobre el marco.",
      },
      why: { en: "A patch needs something to nail to.", es: "El parche necesita dónde clavarse." },
    },
    {
      step: {
        en: "Find where the water came in before closing.",
        es: "Encontrar por dónde entró el agua antes de cerrar.",
      },
      why: { en: "New wood rots the same way.", es: "La madera nueva se pudre igual." },
    },
    {
      step: {
        en: "Set panels with 1/8 in. all round; nail off.",
        es: "Colocar tableros con 1/8 pulg. alrededor; clavar todo.",
      },
      why: {
        en: "Panels swell, and buckles crack what is on them.",
        es: "Los tableros se hinchan y agrietan lo de encima.",
      },
    },
    {
      step: { en: "Check that it is dry and flat.", es: "Comprobar que esté seco y plano." },
      why: { en: "The barrier traps what is wet.", es: "La barrera encierra lo mojado." },
    },
  ],
  reframe: [
    {
      step: {
        en: "Support the load before cutting; ask where in doubt.",
        es: "Apuntalar la carga antes de cortar; preguntar si hay duda.",
      },
      why: {
        en: "Headers and studs may be carrying the roof.",
        es: "Dinteles y montantes pueden cargar el techo.",
      },
    },
    {
      step: {
        en: "Cut out rot; measure the new unit, not the old hole.",
        es: "Cortar lo podrido; medir la ventana nueva, no el hueco viejo.",
      },
      why: {
        en: "The opening is made to the window that was delivered.",
        es: "La abertura se hace para la ventana entregada.",
      },
    },
    {
      step: {
        en: "Frame square and level, sill sloped out.",
        es: "Enmarcar a escuadra y nivel, alféizar con caída.",
      },
      why: { en: "Water on the sill must run out.", es: "El agua en el alféizar debe salir." },
    },
    {
      step: {
        en: "Frame inspection, where the permit asks for it, before covering.",
        es: "Inspección del marco antes de cubrir, si el permiso la pide.",
      },
      why: { en: "It cannot be seen afterwards.", es: "Después no se ve." },
    },
  ],
  wrb: [
    {
      step: {
        en: "Membrane at the base first, on clean dry wood.",
        es: "Primero la membrana de base, sobre madera limpia y seca.",
      },
      why: { en: "Blocks and stone come in front of it.", es: "Bloques y piedra van delante." },
    },
    {
      step: {
        en: "Roll from the bottom up; upper over lower 2 in., joints 6 in.",
        es: "Extender de abajo hacia arriba; traslape 2 pulg., juntas 6 pulg.",
      },
      why: { en: "Water must run down the face.", es: "El agua debe correr por la cara." },
    },
    {
      step: {
        en: "Leave a flap above openings and roof lines.",
        es: "Dejar solapa sobre aberturas y líneas de techo.",
      },
      why: { en: "It folds down over the head flashing.", es: "Se baja sobre el tapajuntas superior." },
    },
    {
      step: {
        en: "Set sill pans with slope and back dam, over the barrier below.",
        es: "Poner bandejas con pendiente y tope, sobre la barrera de abajo.",
      },
      why: {
        en: "They cannot be added once the window is in.",
        es: "No se pueden poner con la ventana puesta.",
      },
    },
    {
      step: { en: "Tape joints and repair every tear.", es: "Encintar juntas y reparar cada rotura." },
      why: { en: "Wind drives rain through a tear.", es: "El viento mete la lluvia por una rotura." },
    },
  ],
  windows: [
    {
      step: {
        en: "Check the unit against the opening and the pan.",
        es: "Comparar la ventana con la abertura y la bandeja.",
      },
      why: {
        en: "A wrong unit is found on the ground, not in the wall.",
        es: "El error se descubre en el suelo, no en la pared.",
      },
    },
    {
      step: {
        en: "Sealant behind head and jamb flanges; none at the bottom.",
        es: "Sellador tras pestañas superior y laterales; nada abajo.",
      },
      why: {
        en: "Water that gets in must drain at the sill.",
        es: "El agua que entre debe salir por el alféizar.",
      },
    },
    {
      step: {
        en: "Set, plumb, square, fasten; try the sash.",
        es: "Colocar, aplomar, escuadrar, fijar; probar la hoja.",
      },
      why: { en: "Flashing locks it as it stands.", es: "El tapajuntas la deja como está." },
    },
    {
      step: {
        en: "Flash the jambs, then the head; fold the flap down and tape its cuts.",
        es: "Sellar los lados y luego arriba; bajar la solapa y encintar cortes.",
      },
      why: { en: "Each lap lies over the one below.", es: "Cada traslape va sobre el de abajo." },
    },
    {
      step: { en: "Check: bottom flange open.", es: "Comprobar: pestaña inferior abierta." },
      why: { en: "It is the step most often done wrong.", es: "Es el paso que más se hace mal." },
    },
  ],
} as const satisfies Readonly<Record<string, readonly TradeStep[]>>;
