/**
 * How far a drive is, for reading only: road miles, by great circle and the policy's detour.
 * The planner's own minutes are in the plan; this only names the miles beside them.
 */
import type { Company } from "../domain/company-schema.js";
import { greatCircleMiles, type Coordinates } from "../domain/great-circle.js";
import type { DayBlock } from "./reading.js";

export interface Drive {
  /** "9 mi"; empty where one of the ends has no place. */
  readonly miles: string;
  readonly end: "from-yard" | "between-houses" | "to-yard";
}

/** The drive that the block at `index` of a crew's day is: before the first house, between two, or after the last. */
export function driveMiles(company: Company, blocks: readonly DayBlock[], index: number): Drive {
  const yard = company.company.yard;
  const isStay = (block: DayBlock): boolean =>
    block.job !== null && block.kind !== "load" && block.kind !== "travel";
  const from = blocks.slice(0, index).findLast(isStay)?.job?.site ?? null;
  const to = blocks.slice(index + 1).find(isStay)?.job?.site ?? null;
  if (from === null) return { miles: milesBetween(company, yard, to), end: "from-yard" };
  if (to === null) return { miles: milesBetween(company, from, yard), end: "to-yard" };
  return { miles: milesBetween(company, from, to), end: "between-houses" };
}

function milesBetween(company: Company, from: Coordinates | null, to: Coordinates | null): string {
  if (from === null || to === null) return "";
  const miles = greatCircleMiles(from, to) * company.policy.detour;
  return miles < 1 ? "under 1 mi" : `${Math.round(miles)} mi`;
}
