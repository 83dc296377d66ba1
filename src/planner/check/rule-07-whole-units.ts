/**
 * Rule 7: work that opens the wall is done in whole units; none spans a night, a break in light or a hold.
 */
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { wasOpen } from "./chains.js";
import { dateOf } from "./crew-days.js";
import { windowOf } from "./crew-window.js";
import { saySpan, sayTask, sayTime, type Evidence } from "./evidence.js";
import { inRange } from "./length.js";
import { mealBreakOf, shiftAt } from "./shift.js";
import { minutesIn } from "./spans.js";
import { isUnbroken, type ChainWork, type TaskUnits } from "./unit-work.js";

export const checkWholeUnits: Check = ({ evidence, chains }: Case) =>
  chains.flatMap((work) =>
    [...work.units.values()]
      .filter(({ fact }) => work.chain.openers.includes(fact.task))
      .flatMap((units) => [
        ...checkShares(7, units),
        ...units.pieces.flatMap((pieces, index) => {
          const head = pieces[0];
          if (head === undefined || isOpenerUnitWhole(evidence, work, units, index + 1)) return [];
          const span = { start: head.start, end: pieces.at(-1)?.end ?? head.end };
          const sentence =
            `Unit ${index + 1} of ${sayTask(units.fact)} is worked ${saySpan(span, units.fact.zone)} on ${dateOf(evidence, head.block)}` +
            `, not in one unbroken window: a unit spans no night, no dark and no hold.`;
          return [brokenTask(7, units.fact, sentence)];
        }),
      ]),
  );

/** Whether an opener's share of a unit (from 1) lies in one window. What was open before the plan is not its doing. */
export function isOpenerUnitWhole(
  evidence: Evidence,
  { chain }: ChainWork,
  { fact, pieces }: TaskUnits,
  unit: number,
): boolean {
  const mine = pieces[unit - 1] ?? [];
  const head = mine[0]?.block;
  if (head === undefined || fact.trade === null || wasOpen(chain, unit)) return true;
  const date = dateOf(evidence, head);
  const window = windowOf(evidence, head.crew, date, fact.job, [fact.trade]);
  return isUnbroken(mine, window, mealBreakOf(evidence, shiftAt(evidence, head.crew, date, [fact.job])));
}

/** Whether every unit got its share, and every block said a unit that it could belong to. */
export function checkShares(rule: 7 | 8, { fact, shares, pieces, unplaced }: TaskUnits): BrokenRule[] {
  if (pieces.every((mine) => mine.length === 0) && unplaced.length === 0) return [];
  return [
    ...unplaced.map((piece) =>
      brokenTask(
        rule,
        fact,
        `${sayTask(fact)} has ${piece.end - piece.start} minutes at ${sayTime(piece.start, fact.zone)} more than the units named there take.`,
      ),
    ),
    ...pieces.flatMap((mine, index) => {
      const share = shares[index];
      const minutes = minutesIn(mine);
      if (share === undefined || inRange(minutes, share) || unplaced.length > 0) return [];
      return [
        brokenTask(
          rule,
          fact,
          `Unit ${index + 1} of ${sayTask(fact)} gets ${minutes} minutes, but its share is ${share.minutes}.`,
        ),
      ];
    }),
  ];
}
