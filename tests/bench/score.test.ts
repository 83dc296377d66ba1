/** From answers to a line of the table: what is measured against what, and what enters a mean. */
import { describe, expect, it } from "vitest";
import { PUBLISHED_SETS } from "./published-sets.js";
import { scoreSet, type Answer } from "./score.js";

const [J30, J60] = PUBLISHED_SETS;
if (J30 === undefined || J60 === undefined) throw new Error("The first two sets are j30 and j60.");

interface Facts {
  readonly makespan: number;
  readonly lower?: number;
  readonly upper?: number;
  readonly criticalPath?: number;
  readonly faults?: readonly string[];
}

function anAnswer({ makespan, lower = 90, upper = 100, criticalPath = 80, faults = [] }: Facts): Answer {
  return {
    bestKnown: { instance: `at-${makespan}`, lowerBound: lower, upperBound: upper },
    criticalPathMinutes: criticalPath,
    solved: { makespan, schedules: 1, seconds: 2, faults },
  };
}

const AT_MOST_2 = { budget: { kind: "schedules", schedules: 1 }, barPercent: 2 } as const;

describe("a set's score", () => {
  it("is the mean over instances of the percentage above the best known value", () => {
    const score = scoreSet(J30, AT_MOST_2, 2, [anAnswer({ makespan: 100 }), anAnswer({ makespan: 104 })]);
    expect(score).toMatchObject({
      meanPercent: 2,
      hits: 1,
      improved: 0,
      refused: 0,
      met: true,
      secondsEach: 2,
    });
    expect(score.worst?.instance).toBe("at-104");
  });

  it("is measured against the critical path where the set says so", () => {
    expect(scoreSet(J60, AT_MOST_2, 1, [anAnswer({ makespan: 100 })])).toMatchObject({
      meanPercent: 25,
      hits: 1,
      met: false,
    });
  });

  it("leaves out an answer that does not count, and then misses its bar", () => {
    const refused = anAnswer({ makespan: 90, faults: ["broken"] });
    expect(scoreSet(J30, AT_MOST_2, 2, [anAnswer({ makespan: 101 }), refused])).toMatchObject({
      meanPercent: 1,
      hits: 0,
      refused: 1,
      met: false,
    });
  });

  it("refuses an answer below a proven bound", () => {
    const score = scoreSet(J30, AT_MOST_2, 1, [anAnswer({ makespan: 89 })]);
    expect(score).toMatchObject({ meanPercent: undefined, refused: 1, met: false });
    expect(score.answers[0]?.faults).toEqual(["89 is below the proven lower bound 90: a rule is not kept"]);
  });

  it("counts an answer between the bounds as better than best known", () => {
    expect(scoreSet(J30, AT_MOST_2, 1, [anAnswer({ makespan: 95 })])).toMatchObject({
      meanPercent: -5,
      hits: 1,
      improved: 1,
    });
  });

  it("meets and misses nothing where there is no bar", () => {
    const informative = { ...AT_MOST_2, barPercent: undefined };
    expect(scoreSet(J30, informative, 1, [anAnswer({ makespan: 100 })]).met).toBeUndefined();
  });
});
