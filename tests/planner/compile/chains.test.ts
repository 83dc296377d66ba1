/** Which tasks of a house make one chain (rule 8, reading 12). */
import { describe, expect, it } from "vitest";
import { present } from "../../../src/domain/result.js";
import { listChains, sortByPrecedence } from "../../../src/planner/compile/chains.js";
import { aCompany, aJob, aTask, parsed } from "../../support/company-builder.js";

type Change = NonNullable<Parameters<typeof aTask>[0]>;
const task = (id: string, after: readonly string[], change: Change = {}) =>
  aTask({ id, after: after.map((before) => ({ task: before })), ...change });
const opens = (area = "front"): Change => ({ area, opens: true });
const closes = (area = "front"): Change => ({ area, closes: true });
const jobOf = (tasks: readonly ReturnType<typeof aTask>[]) =>
  present(parsed(aCompany({ jobs: [aJob({ tasks: [...tasks] })] })).jobs[0], "the job");

/** Each chain as the ids of its tasks, and what is never closed. */
function chainsOf(...tasks: readonly ReturnType<typeof aTask>[]) {
  const { chains, neverClosed } = listChains(jobOf(tasks));
  return {
    chains: chains.map((chain) => chain.tasks.map(({ id }) => id).join(" ")),
    neverClosed: neverClosed.map(({ id }) => id),
  };
}

describe("a chain", () => {
  it("is what opens, what closes, and every task on a path between", () => {
    const { chains } = chainsOf(
      task("strip", [], opens()),
      task("sheathe", ["strip"]),
      task("wrap", ["sheathe"]),
      task("set", ["wrap"], closes()),
      task("side", ["set"]),
      task("haul", ["strip"]),
    );
    expect(chains).toEqual(["strip sheathe wrap set"]);
  });

  it("ends at the nearest closer in the opener's area", () => {
    const { chains } = chainsOf(
      task("a", [], opens()),
      task("b", ["a"], closes()),
      task("c", ["b"], closes()),
    );
    expect(chains).toEqual(["a b"]);
  });

  it("passes by a closer of another area", () => {
    const { chains } = chainsOf(
      task("a", [], opens()),
      task("b", ["a"], closes("back")),
      task("c", ["b"], closes()),
    );
    expect(chains).toEqual(["a b c"]);
  });

  it("takes both branches of a fork", () => {
    const { chains } = chainsOf(
      task("a", [], opens()),
      task("b", ["a"]),
      task("c", ["a"]),
      task("d", ["b", "c"], closes()),
    );
    expect(chains).toEqual(["a b c d"]);
  });

  it("is one with another that shares a task", () => {
    const { chains } = chainsOf(
      task("a", [], opens()),
      task("b", [], opens()),
      task("c", ["a", "b"], closes()),
    );
    expect(chains).toEqual(["a b c"]);
  });

  it("of another area is another", () => {
    const { chains } = chainsOf(
      task("a", [], opens()),
      task("b", ["a"], closes()),
      task("c", ["b"], opens("back")),
      task("d", ["c"], closes("back")),
    );
    expect(chains).toEqual(["a b", "c d"]);
  });

  it("is a task by itself that both opens and closes", () => {
    expect(chainsOf(task("patch", [], { ...opens(), closes: true })).chains).toEqual(["patch"]);
  });

  it("has the units of its first opener", () => {
    const job = jobOf([task("a", [], { ...opens(), units: 3 }), task("b", ["a"], { ...closes(), units: 5 })]);
    expect(listChains(job).chains[0]?.units).toBe(3);
  });

  it("is none where nothing of the area closes what is opened", () => {
    expect(chainsOf(task("a", [], opens()), task("b", ["a"], closes("back")))).toEqual({
      chains: [],
      neverClosed: ["a"],
    });
  });
});

describe("tasks sorted by what they follow", () => {
  it("come each after all that it follows, and otherwise as in the file", () => {
    const job = jobOf([task("d", ["c"]), task("a", []), task("c", ["b"]), task("b", [])]);
    expect(sortByPrecedence(job.tasks).map(({ id }) => id)).toEqual(["b", "c", "d", "a"]);
  });
});
