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
    when: "wind",
    text: {
      en: "Gusts of 25 mph or more coming: tie or weigh down sheets, wrap ends, tarps, the dumpster cover.",
      es: "Vienen ráfagas de 25 mph o más: amarrar o lastrar tableros, puntas de barrera, lonas y la tapa del contenedor.",
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
    id: "report",
    when: "always",
    text: {
      en: "Report what is done, what is left and what was found; photograph it.",
      es: "Reportar lo hecho, lo que falta y lo encontrado; tomar fotos.",
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
