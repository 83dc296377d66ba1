/**
 * How far a drive is, for reading only: road miles, by great circle and the policy's detour.
 * The planner's own minutes are in the plan; this only names the miles beside them.
 */
import type { Company } from "../domain/company-schema.js";
import { greatCircleMiles, type Coordinates } from "../domain/great-circle.js";
import type { DayBlock } from "./reading.js";
import type { Language } from "./spoken-time.js";

export interface Drive {
  /** "9 mi", "9 millas"; empty where one of the ends has no place. */
  readonly miles: string;
  readonly end: "from-yard" | "between-houses" | "to-yard";
  /** Where it goes; null where the company file names no place. */
  readonly to: Coordinates | null;
}

/** The drive that the block at `index` of a crew's day is: before the first house, between two, or after the last. */
export function driveMiles(
  company: Company,
  blocks: readonly DayBlock[],
  index: number,
  language: Language,
): Drive {
  const yard = company.company.yard;
  const isStay = (block: DayBlock): boolean =>
    block.job !== null && block.kind !== "load" && block.kind !== "travel";
  const from = blocks.slice(0, index).findLast(isStay)?.job?.site ?? null;
  const to = blocks.slice(index + 1).find(isStay)?.job?.site ?? null;
  if (from === null) return { miles: milesBetween(company, language, yard, to), end: "from-yard", to };
  if (to === null) return { miles: milesBetween(company, language, from, yard), end: "to-yard", to: yard };
  return { miles: milesBetween(company, language, from, to), end: "between-houses", to };
}

const MILES = {
  en: (miles: number) => (miles < 1 ? "under 1 mi" : `${Math.round(miles)} mi`),
  es: (miles: number) =>
    miles < 1 ? "menos de 1 milla" : Math.round(miles) === 1 ? "1 milla" : `${Math.round(miles)} millas`,
} as const satisfies Record<Language, (miles: number) => string>;

function milesBetween(
  company: Company,
  language: Language,
  from: Coordinates | null,
  to: Coordinates | null,
): string {
  if (from === null || to === null) return "";
  return MILES[language](greatCircleMiles(from, to) * company.policy.detour);
}
