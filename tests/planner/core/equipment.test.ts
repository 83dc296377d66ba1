/** Equipment: who stands in whose way, and until when. */
import { describe, expect, it } from "vitest";
import { compile } from "../../../src/planner/compile/compile.js";
import { findClash } from "../../../src/planner/core/equipment.js";
import { Timeline } from "../../../src/planner/core/timeline.js";
import { aCompany, aJob, aTask, parsed } from "../../support/company-builder.js";

/** Tasks 0, 1, 2 need one lift each, task 3 needs two; there are two. `placed`: start, end, how many, task. */
function clashOf(
  placed: readonly (readonly [start: number, end: number, amount: number, task: number])[],
  ...held: readonly (readonly [task: number, start: number, end: number])[]
) {
  const tasks = [1, 1, 1, 2].map((lift, index) => aTask({ id: `t${index}`, equipment: { lift } }));
  const company = aCompany({
    equipment: [{ id: "lift", name: "Boom lift", count: 2 }],
    jobs: [aJob({ tasks })],
  });
  const { problem } = compile(parsed(company), 0, 7);
  const timeline = new Timeline(problem);
  for (const use of placed) timeline.equipmentUse[0]?.push(...use);
  return findClash(
    problem,
    timeline,
    held.map(([task, start, end]) => ({ task, start, end })),
  );
}

describe("equipment that is held", () => {
  it("clashes with nobody while there is one left", () => {
    expect(clashOf([[0, 100, 1, 1]], [0, 50, 60])).toBeNull();
  });

  it("clashes when all are out, until the first is let go", () => {
    const out = [
      [0, 100, 1, 1],
      [20, 70, 1, 2],
    ] as const;
    expect(clashOf(out, [0, 50, 60])).toEqual({ until: 70, by: 2 });
  });

  it("clashes with one that goes out later, while it is still held", () => {
    const out = [
      [0, 100, 1, 1],
      [55, 80, 1, 2],
    ] as const;
    expect(clashOf(out, [0, 50, 60])).toEqual({ until: 80, by: 2 });
    expect(clashOf(out, [0, 50, 55])).toBeNull();
  });

  it("is free from the minute on at which it is let go", () => {
    expect(clashOf([[0, 50, 2, 3]], [0, 50, 60])).toBeNull();
  });

  it("counts how many a task needs", () => {
    expect(clashOf([[0, 100, 1, 1]], [3, 50, 60])).toEqual({ until: 100, by: 1 });
  });

  it("stands in its own way where two tasks of one activity need more than there is", () => {
    expect(clashOf([], [0, 50, 60], [3, 55, 70])).toEqual({ until: 50, by: -1 });
  });
});
