/** Which problems the search on lines takes, and how it reads them. */
import { describe, expect, it } from "vitest";
import { appliesToLines, toLineProblem } from "../../../../src/planner/core/lines/line-problem.js";
import { openProblem, type OpenTimeTask } from "../../../../src/planner/core/open-problem.js";

const plain: OpenTimeTask = {
  crews: [{ crew: 0, minutes: 5 }],
  fixedMinutes: 0,
  equipment: [],
  after: [],
  notBefore: 0,
};
const problemOf = (tasks: readonly OpenTimeTask[], equipmentCount: readonly number[] = []) =>
  openProblem({ crewCount: 2, equipmentCount, tasks });

describe("appliesToLines", () => {
  it("takes tasks with a crew each, with lags, release dates and tasks without a crew among them", () => {
    const wait = { ...plain, crews: [], fixedMinutes: 9, after: [{ task: 0, lagMinutes: 4 }] };
    expect(appliesToLines(problemOf([plain, wait, { ...plain, notBefore: 7 }]))).toBe(true);
  });

  it("refuses counted equipment, negative lags, problems without crews and crew days", () => {
    expect(appliesToLines(problemOf([{ ...plain, equipment: [{ equipment: 0, amount: 1 }] }], [2]))).toBe(
      false,
    );
    expect(appliesToLines(problemOf([plain, { ...plain, after: [{ task: 0, lagMinutes: -1 }] }]))).toBe(
      false,
    );
    expect(appliesToLines(problemOf([{ ...plain, crews: [], fixedMinutes: 3 }]))).toBe(false);
    expect(appliesToLines({ ...problemOf([plain]), time: "days" })).toBe(false);
  });
});

describe("toLineProblem", () => {
  it("gives a task of no minutes no place in a line", () => {
    const crews = [
      { crew: 0, minutes: 0 },
      { crew: 1, minutes: 4 },
    ];
    const { options } = toLineProblem(problemOf([{ ...plain, crews }]));
    expect([...options.item]).toEqual([-1, 1]);
    expect([...options.value]).toEqual([0, 4]);
  });
});
