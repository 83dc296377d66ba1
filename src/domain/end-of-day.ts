/**
 * What happens before a crew leaves a house, every day and inside the light. Common practice, except where a rule is named.
 */
import type { Text } from "./plan-format.js";

export interface EndOfDayItem {
  readonly id: string;
  readonly text: Text;
  /** Whether it is for every day, or only where a wall stays open or wind is coming. */
  readonly when: "always" | "open-wall" | "wind";
}

export const endOfDayList: readonly EndOfDayItem[] = [
  {
    id: "close-wall",
    when: "always",
    text: {
      en: "Look at every side: nothing open, every lap shedding water.",
      es: "Revisar cada lado: nada abierto, cada traslape botando el agua.",
    },
  },
  {
    id: "cover",
    when: "open-wall",
    text: {
      en: "Cover what is open, from above the opening to below it, tied so that wind cannot lift it.",
      es: "Cubrir lo abierto, desde arriba hasta abajo, amarrado para que el viento no lo levante.",
    },
  },
  {
    id: "scrap",
    when: "always",
    text: {
      en: "Scrap and boards with nails off the walks, stairs and lawn (29 CFR 1926.25).",
      es: "Restos y tablas con clavos fuera de pasos, escaleras y césped (29 CFR 1926.25).",
    },
  },
  {
    id: "magnet",
    when: "always",
    text: {
      en: "Magnet over driveway, walks and lawn, while there is light to see by.",
      es: "Pasar el imán por entrada, pasos y césped, mientras hay luz.",
    },
  },
  {
    id: "tie-down",
    when: "always",
    text: {
      en: "Loose material stacked and tied or weighed down.",
      es: "Material suelto apilado y amarrado o con peso encima.",
    },
  },
  {
    id: "tie-down-wind",
    when: "wind",
    text: {
      en: "Wind coming (gusts of 25 mph or more): a second line over every tarp and stack, wrap ends battened, the dumpster cover tied.",
      es: "Viene viento (ráfagas de 25 mph o más): segunda cuerda sobre cada lona y pila, puntas de barrera con listón, tapa del contenedor amarrada.",
    },
  },
  {
    id: "planks-wind",
    when: "wind",
    text: {
      en: "Nothing left lying on scaffold planks, roofs or sills; signs and light covers inside.",
      es: "Nada suelto sobre tablones de andamio, techos o repisas; letreros y cubiertas livianas adentro.",
    },
  },
  {
    id: "ladders",
    when: "always",
    text: {
      en: "Ladders down and locked; scaffold access shut off.",
      es: "Escaleras abajo y con candado; acceso al andamio cerrado.",
    },
  },
  {
    id: "household",
    when: "always",
    text: {
      en: "Doors, power, water and paths of the household work; tell them who comes next and when.",
      es: "Puertas, luz, agua y pasos de la casa funcionan; avisar quién viene después y cuándo.",
    },
  },
  {
    id: "gate",
    when: "always",
    text: {
      en: "Gate shut, as you found it.",
      es: "Portón cerrado, como estaba.",
    },
  },
  {
    id: "photo",
    when: "always",
    text: {
      en: "Photograph each side as you leave it.",
      es: "Tomar una foto de cada lado como queda.",
    },
  },
  {
    id: "report",
    when: "always",
    text: {
      en: "Report what is done, what is left and what was found.",
      es: "Reportar lo hecho, lo que falta y lo encontrado.",
    },
  },
];

/** The items for one evening. */
export function listEndOfDay(evening: {
  readonly openWall: boolean;
  readonly gustMph: number | null;
}): readonly EndOfDayItem[] {
  const asks: { readonly [When in EndOfDayItem["when"]]: boolean } = {
    always: true,
    "open-wall": evening.openWall,
    wind: (evening.gustMph ?? 0) >= 25,
  };
  return endOfDayList.filter((item) => asks[item.when]);
}
