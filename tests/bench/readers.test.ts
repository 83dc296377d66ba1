/** What the readers of published instances make of their files, and what they say of damaged ones. */
import { describe, expect, it } from "vitest";
import { parseBestKnown, spreadEvenly } from "./best-known.js";
import { READERS } from "./families.js";
import { parseFjsp } from "./readers/fjsp.js";
import { parseImopse } from "./readers/imopse.js";
import { parseMplib } from "./readers/mplib.js";
import { parsePsplib } from "./readers/psplib.js";
import { SMALL_PORTFOLIO, SMALL_PROJECT, SMALL_SHOP, SMALL_SKILLS } from "./small-instances.js";

describe("PSPLIB", () => {
  const { input, criticalPathMinutes } = READERS.psplib("small.sm", SMALL_PROJECT.text);

  it("makes resources equipment, and jobs tasks without a crew, dummies included", () => {
    expect(input.crewCount).toBe(0);
    expect(input.equipmentCount).toEqual([3]);
    expect(input.tasks.map((task) => task.fixedMinutes)).toEqual([0, 3, 2, 2, 1, 0]);
    expect(input.tasks.map((task) => task.equipment.map((use) => use.amount))).toEqual([
      [],
      [2],
      [2],
      [1],
      [3],
      [],
    ]);
  });

  it("turns successors into what each task follows", () => {
    expect(input.tasks.map((task) => task.after.map((edge) => edge.task))).toEqual([
      [],
      [0],
      [0],
      [1],
      [2],
      [3, 4],
    ]);
  });

  it("takes the critical path from the file", () => {
    expect(criticalPathMinutes).toBe(5);
  });

  it("names file and line of what is no number", () => {
    const text = SMALL_PROJECT.text.replace("  4      1     2       1", "  4      1     x       1");
    expect(() => parsePsplib("small.sm", text)).toThrow(
      'small.sm, line 32: the length should be a whole number, found "x"',
    );
  });

  it("refuses a job that needs more than there is", () => {
    const text = SMALL_PROJECT.text.replace("  5      1     1       3", "  5      1     1       4");
    expect(() => parsePsplib("small.sm", text)).toThrow(
      "small.sm, line 33: job 5 needs more units of resource 1 than there are",
    );
  });

  it("refuses resources of a kind that is used up", () => {
    const text = SMALL_PROJECT.text.replace(
      "nonrenewable              :  0",
      "nonrenewable              :  2",
    );
    expect(() => parsePsplib("small.sm", text)).toThrow("small.sm, line 10: ");
  });

  it("refuses a file that stops early", () => {
    const text = SMALL_PROJECT.text.slice(0, SMALL_PROJECT.text.indexOf("  4      1     2"));
    expect(() => parsePsplib("small.sm", text)).toThrow(
      "small.sm, line 32: the file ends before the length of job 4",
    );
  });

  it("refuses an order with a circle, naming a line in it", () => {
    const text = SMALL_PROJECT.text.replace(
      "   4        1          1           6",
      "   4        1          1           2",
    );
    expect(() => READERS.psplib("small.sm", text)).toThrow(
      "small.sm, line 30: task 2 waits for itself: the order has a circle",
    );
  });
});

describe("MPLIB", () => {
  it("joins projects into one list, with shared resources and each project's release date", () => {
    const { input } = READERS.mplib("small.rcmp", SMALL_PORTFOLIO.text);
    expect(input.equipmentCount).toEqual([2, 1]);
    expect(input.tasks.map((task) => task.fixedMinutes)).toEqual([0, 3, 2, 0, 0, 2, 0]);
    expect(input.tasks.map((task) => task.notBefore)).toEqual([0, 0, 0, 0, 1, 1, 1]);
    expect(input.tasks.map((task) => task.after.map((edge) => edge.task))).toEqual([
      [],
      [0],
      [0],
      [1, 2],
      [],
      [4],
      [5],
    ]);
  });

  it("lets an activity of one project follow one of another", () => {
    const text = SMALL_PORTFOLIO.text.replace("   2   1   1   1 2:3", "   2   1   1   2 2:3 1:3");
    const { activities } = parseMplib("small.rcmp", text);
    expect(activities[5]?.successors).toEqual([6, 2]);
  });

  it("refuses a successor that is not there", () => {
    const text = SMALL_PORTFOLIO.text.replace("2:3", "2:4");
    expect(() => parseMplib("small.rcmp", text)).toThrow("small.rcmp, line 17: there is no activity 2:4");
  });

  it("refuses a line with more successors than it says", () => {
    const text = SMALL_PORTFOLIO.text.replace("   3   1   0   1 1:4", "   3   1   0   1 1:4 1:3");
    expect(() => parseMplib("small.rcmp", text)).toThrow(
      "small.rcmp, line 9: activity 1:2 should end with 1 successors",
    );
  });

  it("refuses what stands after the last project", () => {
    expect(() => parseMplib("small.rcmp", `${SMALL_PORTFOLIO.text}7\n`)).toThrow(
      'small.rcmp, line 19: nothing was expected after the end, found "7"',
    );
  });
});

describe("flexible job shop", () => {
  it("makes machines crews, each with its own length, and keeps the order within a job", () => {
    const { input } = READERS.fjsp("small.fjs", SMALL_SHOP.text);
    expect(input.crewCount).toBe(2);
    expect(input.tasks.map((task) => task.crews)).toEqual([
      [
        { crew: 0, minutes: 3 },
        { crew: 1, minutes: 5 },
      ],
      [{ crew: 1, minutes: 2 }],
      [{ crew: 0, minutes: 2 }],
      [
        { crew: 0, minutes: 4 },
        { crew: 1, minutes: 3 },
      ],
    ]);
    expect(input.tasks.map((task) => task.after.map((edge) => edge.task))).toEqual([[], [0], [], [2]]);
  });

  it("does not need the average in the first line", () => {
    const text = SMALL_SHOP.text.replace("2\t2  1.5", "2 2");
    expect(parseFjsp("small.fjs", text).operations).toHaveLength(4);
  });

  it("refuses a machine that is not there", () => {
    const text = SMALL_SHOP.text.replace("1 2 2\n", "1 3 2\n");
    expect(() => parseFjsp("small.fjs", text)).toThrow(
      "small.fjs, line 2: a machine for operation 2 should be between 1 and 2, found 3",
    );
  });

  it("refuses a job line with words left over", () => {
    expect(() => parseFjsp("small.fjs", `${SMALL_SHOP.text}9`)).toThrow(
      'small.fjs, line 3: job 2 should have ended before "9"',
    );
  });
});

describe("iMOPSE", () => {
  it("makes a resource eligible where its level is the one asked for or higher", () => {
    const { input } = READERS.imopse("small.def", SMALL_SKILLS.text);
    expect(input.crewCount).toBe(2);
    expect(input.tasks.map((task) => task.crews.map((one) => one.crew))).toEqual([[0, 1], [1], [0], [0, 1]]);
    expect(input.tasks.map((task) => task.crews[0]?.minutes)).toEqual([4, 3, 2, 3]);
    expect(input.tasks.map((task) => task.after.map((edge) => edge.task))).toEqual([[], [], [0], [1]]);
  });

  it("refuses a task that no resource can do", () => {
    const text = SMALL_SKILLS.text.replace("Q0: 2\t\n3", "Q0: 3\t\n3");
    expect(() => parseImopse("small.def", text)).toThrow("small.def, line 18: no resource has Q0 at level 3");
  });

  it("refuses a task line that is out of turn", () => {
    const text = SMALL_SKILLS.text.replace("\n4\t", "\n5\t");
    expect(() => parseImopse("small.def", text)).toThrow("small.def, line 20: task 4 should be its number");
  });
});

describe("best known values", () => {
  const head = "instance,lower_bound,upper_bound,source";

  it("gives both bounds of each instance", () => {
    expect(parseBestKnown("best.csv", `${head}\na,3,4,somebody, somewhere\nb,5,5,\n`)).toEqual([
      { instance: "a", lowerBound: 3, upperBound: 4 },
      { instance: "b", lowerBound: 5, upperBound: 5 },
    ]);
  });

  it("refuses a lower bound above the upper one", () => {
    expect(() => parseBestKnown("best.csv", `${head}\na,5,4,\n`)).toThrow(
      'best.csv, line 2: "5" and "4" are no bounds of a',
    );
  });

  it("spreads a sample over the whole list", () => {
    expect(spreadEvenly(["a", "b", "c", "d", "e"], 3)).toEqual(["a", "c", "e"]);
    expect(spreadEvenly(["a", "b"], 3)).toEqual(["a", "b"]);
    expect(spreadEvenly(["a", "b", "c"], 1)).toEqual(["a"]);
  });
});
