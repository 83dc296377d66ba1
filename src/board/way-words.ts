/** What ways out are called. */
import type { WayKind } from "../planner/ways-out/way-out.js";

const NAMES = {
  hold: "Hold the order",
  resequence: "Resequence",
  lend: "Lend",
  stretch: "Stretch",
  saturday: "Saturday",
} as const satisfies Record<WayKind, string>;

/** "Hold the order", "Lend", "Resequence, lend and stretch". */
export function wayName(kinds: readonly WayKind[]): string {
  const names = kinds.map((kind, place) =>
    place === 0 || kind === "saturday" ? NAMES[kind] : NAMES[kind].toLowerCase(),
  );
  return names.length <= 1
    ? names.join("")
    : `${names.slice(0, -1).join(", ")} and ${names.slice(-1).join("")}`;
}
