/**
 * What the checker answers with: one broken rule of the planning model, in a sentence with times and names.
 * "format", "cost" and "days" stand for what the plan says about itself (ids, figures, light) rather than for a rule.
 */

/** The number of a rule in the planning model, or the part of the plan that contradicts itself. */
export type RuleName = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 | 10 | 11 | 12 | 13 | "format" | "cost" | "days";

/** Ids say whom it concerns; what does not apply is left out. */
export interface BrokenRule {
  readonly rule: RuleName;
  readonly sentence: string;
  readonly crew?: string;
  readonly job?: string;
  readonly task?: string;
}

const TITLES = {
  1: "eligible",
  2: "one place",
  3: "windows",
  4: "order",
  5: "gates",
  6: "continuity",
  7: "whole units",
  8: "open wall",
  9: "day's end",
  10: "equipment",
  11: "past and promise",
  12: "complete",
  13: "prompt",
  format: "plan format",
  cost: "cost figures",
  days: "days",
} satisfies Record<RuleName, string>;

/** One line for people: `Rule 4 (order): …`. */
export function formatBroken(broken: BrokenRule): string {
  const name = typeof broken.rule === "number" ? `Rule ${broken.rule}` : "The plan itself";
  return `${name} (${TITLES[broken.rule]}): ${broken.sentence}`;
}
