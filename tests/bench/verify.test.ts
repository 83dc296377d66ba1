/** What the verifiers of published instances accept, and that they catch each rule being broken alone. */
import { describe, expect, it } from "vitest";
import { READERS } from "./families.js";
import {
  SMALL_INSTANCES,
  SMALL_PORTFOLIO,
  SMALL_PROJECT,
  SMALL_SHOP,
  SMALL_SKILLS,
  type SmallInstance,
} from "./small-instances.js";
import { makespanOf } from "./verify/schedule.js";

interface Change {
  readonly start?: number;
  readonly end?: number;
  readonly crew?: number;
}

/** What is said of the optimal schedule with some tasks (counted from 1) changed. */
function checkChanged(small: SmallInstance, changes: Readonly<Record<number, Change>>): readonly string[] {
  const { starts, ends, crews } = small.optimal;
  const take = (list: ArrayLike<number>, key: keyof Change): number[] =>
    Array.from(list, (value, task) => changes[task + 1]?.[key] ?? value);
  return READERS[small.family]("small", small.text).check({
    starts: take(starts, "start"),
    ends: take(ends, "end"),
    crews: take(crews, "crew"),
  });
}

describe("every family", () => {
  it.each(SMALL_INSTANCES)("accepts the schedule found by hand ($family)", (small) => {
    expect(checkChanged(small, {})).toEqual([]);
    expect(makespanOf(small.optimal)).toBe(small.optimum);
  });

  it.each(SMALL_INSTANCES)(
    "refuses a schedule that leaves a task out ($family)",
    ({ family, text, optimal }) => {
      const { check } = READERS[family]("small", text);
      const shorter = (list: ArrayLike<number>): number[] => Array.from(list).slice(1);
      const faults = check({
        starts: shorter(optimal.starts),
        ends: shorter(optimal.ends),
        crews: shorter(optimal.crews),
      });
      expect(faults).toHaveLength(1);
    },
  );

  it.each(SMALL_INSTANCES)("refuses a start before 0 ($family)", (small) => {
    expect(checkChanged(small, { 1: { start: -1 } })).toHaveLength(1);
  });
});

describe("projects", () => {
  it("keep to the length of an activity", () => {
    expect(checkChanged(SMALL_PROJECT, { 4: { end: 4 } })).toEqual(["activity 4 takes 1 and not 2"]);
  });

  it("keep to the order", () => {
    expect(checkChanged(SMALL_PROJECT, { 6: { start: 5, end: 5 } })).toEqual([
      "activity 6 starts at 5, before 5 ends at 6",
    ]);
  });

  it("never use more units than there are, in any minute", () => {
    expect(checkChanged(SMALL_PROJECT, { 3: { start: 2, end: 4 } })).toEqual([
      "at 2, 4 units of resource 1 are in use; there are 3",
    ]);
  });

  it("do not begin before their release date", () => {
    expect(checkChanged(SMALL_PORTFOLIO, { 5: { start: 0, end: 0 } })).toEqual([
      "activity 2:1 starts at 0, before 1",
    ]);
  });
});

describe("flexible job shops", () => {
  it("use a machine that can do the operation", () => {
    expect(checkChanged(SMALL_SHOP, { 3: { crew: 1 } })).toEqual([
      "operation 1 of job 2 is on machine 2, which cannot do it",
    ]);
  });

  it("keep to the length on that machine", () => {
    expect(checkChanged(SMALL_SHOP, { 4: { end: 4 } })).toEqual([
      "operation 2 of job 2 takes 2 on machine 2 and not 3",
    ]);
  });

  it("keep to the order of a job", () => {
    expect(checkChanged(SMALL_SHOP, { 4: { start: 1, end: 4 } })).toEqual([
      "operation 2 of job 2 starts at 1, before the one before it ends at 2",
    ]);
  });

  it("do one operation at a time on a machine", () => {
    expect(checkChanged(SMALL_SHOP, { 1: { start: 1, end: 4 } })).toEqual([
      "crew 1 starts task 1 at 1, but is at task 3 until 2",
    ]);
  });
});

describe("multi-skill projects", () => {
  it("use a resource whose level is high enough", () => {
    expect(
      checkChanged(SMALL_SKILLS, { 1: { start: 3, end: 7 }, 2: { crew: 0 }, 3: { start: 7, end: 9 } }),
    ).toEqual(["task 2 is on resource 1, which has no Q0 at level 2"]);
  });

  it("keep to length and order", () => {
    expect(checkChanged(SMALL_SKILLS, { 4: { end: 5 } })).toEqual(["task 4 takes 2 and not 3"]);
    expect(checkChanged(SMALL_SKILLS, { 2: { start: 1, end: 4 }, 4: { start: 3, crew: 1 } })).toContain(
      "task 4 starts at 3, before task 2 ends at 4",
    );
  });

  it("give a resource one task at a time", () => {
    expect(checkChanged(SMALL_SKILLS, { 4: { crew: 0 } })).toContain(
      "crew 1 starts task 4 at 3, but is at task 1 until 4",
    );
  });
});
