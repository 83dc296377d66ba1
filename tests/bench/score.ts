/**
 * From the answers to a set to its line in the table. An answer counts when it was verified and is not below a proven
 * bound; what does not count is reported as a fault and never enters a mean.
 */
import type { BestKnown } from "./best-known.js";
import type { BudgetWithBar, PublishedSet, Reference } from "./published-sets.js";
import type { Solved } from "./judge.js";

export interface Answer {
  readonly bestKnown: BestKnown;
  readonly criticalPathMinutes: number | undefined;
  readonly solved: Solved;
}

export interface ScoredAnswer {
  readonly instance: string;
  readonly makespan: number;
  readonly reference: number;
  readonly lowerBound: number;
  readonly upperBound: number;
  /** Above the reference; undefined where the answer does not count. */
  readonly percent: number | undefined;
  readonly schedules: number;
  readonly seconds: number;
  readonly faults: readonly string[];
}

export interface SetScore {
  readonly set: string;
  readonly run: BudgetWithBar;
  readonly reference: Reference;
  /** Instances that there are here, not only those of a sample. */
  readonly available: number;
  readonly answers: readonly ScoredAnswer[];
  /** Means over what counts; undefined where nothing does. */
  readonly meanPercent: number | undefined;
  readonly worst: ScoredAnswer | undefined;
  /** Answers at or below the best known value. */
  readonly hits: number;
  /** Of these, below it: better than what is known, or a sign of an error. */
  readonly improved: number;
  readonly refused: number;
  /** Undefined where there is no bar. One refused answer misses it. */
  readonly met: boolean | undefined;
  readonly secondsEach: number;
}

export function scoreSet(
  set: PublishedSet,
  run: BudgetWithBar,
  available: number,
  answers: readonly Answer[],
): SetScore {
  const scored = answers.map((answer) => scoreAnswer(answer, set.reference));
  const percents = scored.flatMap(({ percent }) => (percent === undefined ? [] : [percent]));
  const counted = scored.filter(({ percent }) => percent !== undefined);
  const meanPercent = percents.length > 0 ? mean(percents) : undefined;
  const refused = scored.length - counted.length;
  return {
    set: set.name,
    run,
    reference: set.reference,
    available,
    answers: scored,
    meanPercent,
    worst: counted.find(({ percent }) => percent === Math.max(...percents)),
    hits: counted.filter(({ makespan, upperBound }) => makespan <= upperBound).length,
    improved: counted.filter(({ makespan, upperBound }) => makespan < upperBound).length,
    refused,
    met:
      run.barPercent === undefined
        ? undefined
        : refused === 0 && meanPercent !== undefined && meanPercent <= run.barPercent,
    secondsEach: scored.length > 0 ? mean(scored.map(({ seconds }) => seconds)) : 0,
  };
}

function scoreAnswer({ bestKnown, criticalPathMinutes, solved }: Answer, reference: Reference): ScoredAnswer {
  const { instance, lowerBound, upperBound } = bestKnown;
  const { makespan, schedules, seconds } = solved;
  const faults = [...solved.faults];
  const against = reference === "critical-path" ? criticalPathMinutes : upperBound;
  if (against === undefined || against <= 0) faults.push("there is no critical path to measure against");
  if (faults.length === 0 && makespan < lowerBound) {
    faults.push(`${makespan} is below the proven lower bound ${lowerBound}: a rule is not kept`);
  }
  return {
    instance,
    makespan,
    reference: against ?? 0,
    lowerBound,
    upperBound,
    percent: faults.length > 0 || against === undefined ? undefined : ((makespan - against) / against) * 100,
    schedules,
    seconds,
    faults,
  };
}

function mean(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0) / numbers.length;
}
