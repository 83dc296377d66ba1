/** Reads the tables of best known values: CSV with the columns `instance,lower_bound,upper_bound,source`. */
import { InstanceFault } from "./readers/instance-lines.js";

export interface BestKnown {
  readonly instance: string;
  /** Proven: no correct answer is below it. */
  readonly lowerBound: number;
  readonly upperBound: number;
}

/** The rows of the table in its order. Only the source may hold commas. */
export function parseBestKnown(file: string, text: string): readonly BestKnown[] {
  const [head, ...rows] = text.split(/\r?\n/);
  if (head !== "instance,lower_bound,upper_bound,source") {
    throw new InstanceFault(file, 1, 'the columns should be "instance,lower_bound,upper_bound,source"');
  }
  return rows.flatMap((row, index) => {
    if (row.trim() === "") return [];
    const [instance = "", lower = "", upper = ""] = row.split(",");
    const lowerBound = Number(lower);
    const upperBound = Number(upper);
    if (!/^\d+$/.test(lower) || !/^\d+$/.test(upper) || upperBound < 1 || lowerBound > upperBound) {
      throw new InstanceFault(file, index + 2, `"${lower}" and "${upper}" are no bounds of ${instance}`);
    }
    return [{ instance, lowerBound, upperBound }];
  });
}

/** `count` of the list, evenly spread over it from its first to its last; all of it where there are no more. */
export function spreadEvenly<T>(list: readonly T[], count: number): readonly T[] {
  if (count >= list.length) return list;
  const step = count > 1 ? (list.length - 1) / (count - 1) : 0;
  return list.filter((_, index) =>
    Array.from({ length: count }, (_unused, place) => Math.round(place * step)).includes(index),
  );
}
