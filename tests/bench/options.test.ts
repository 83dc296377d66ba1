/** The command line of the bench. */
import { describe, expect, it } from "vitest";
import { parseOptions } from "./options.js";

const SETS = ["psplib-j30", "psplib-j60", "imopse"];
const parse = (...args: readonly string[]) => parseOptions(args, SETS, 4);

describe("the options of the bench", () => {
  it("run every set within its own budgets where nothing is said", () => {
    expect(parse()).toEqual({
      ok: true,
      value: { sets: SETS, budget: undefined, only: undefined, processes: 2, seed: 1 },
    });
  });

  it("use one process where there is one core", () => {
    expect(parseOptions([], SETS, 1)).toMatchObject({ value: { processes: 1 } });
  });

  it("take a family's name for all of its sets", () => {
    expect(parse("--set", "imopse,psplib")).toMatchObject({ value: { sets: SETS } });
    expect(parse("--set", "psplib-j60")).toMatchObject({ value: { sets: ["psplib-j60"] } });
  });

  it("take a budget, a sample, processes and a seed", () => {
    const args = ["--seconds", "2.5", "--only", "10", "--processes", "1", "--seed", "7"];
    expect(parse(...args)).toMatchObject({
      value: { budget: { kind: "seconds", seconds: 2.5 }, only: 10, processes: 1, seed: 7 },
    });
  });

  it.each([
    [["--set", "j30"], 'The option "--set" takes names out of psplib-j30, psplib-j60, imopse, found "j30".'],
    [["--only", "0"], 'The option "--only" takes a whole number of at least 1, found "0".'],
    [["--seconds", "-1"], 'The option "--seconds" takes a number above 0, found "-1".'],
    [["--only"], 'The option "--only" needs a value.'],
    [["--schedules", "5", "--seconds", "5"], "Give either schedules or seconds, once."],
  ])("refuse %j", (args, sentence) => {
    expect(parse(...args)).toEqual({ ok: false, error: sentence });
  });

  it("name all options where one is unknown", () => {
    expect(parse("--fast", "1")).toMatchObject({ error: expect.stringContaining("--schedules N") });
  });
});
