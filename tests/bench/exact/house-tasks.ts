/**
 * What is to be done at the houses of a small invented company: the steps of four kinds of house, in trade order, with
 * cures and inspections. Hours are invented; the order is common practice.
 */
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import type { Random } from "../../../src/planner/core/random.js";

export type HouseKind = "re-side" | "windows" | "stone-skirt" | "gable";
type Job = NonNullable<CompanyInput["jobs"]>[number];
/** Open to change while a house is being made up. */
export type TaskInput = NonNullable<Job["tasks"]>[number];

const MOST_TASKS = 12;

/** Tasks of each house; 8 to 12 in all, none of a trade that no crew has. */
export function listHouseTasks(
  random: Random,
  kinds: readonly HouseKind[],
  houses: number,
  trades: ReadonlySet<string>,
): TaskInput[][] {
  const hours = (least: number, most: number): number => least + random.below(most - least + 1);
  // No unit may be more than three people do in a day.
  const units = (...chain: number[]): number =>
    Math.ceil(chain.reduce((sum, one) => sum + one, 0) / 12) + random.below(2);
  const build: Record<HouseKind, () => TaskInput[]> = {
    "re-side": () => {
      const [strip, wrap, set] = [hours(8, 14), hours(4, 8), hours(6, 14)];
      const count = units(strip, wrap, set);
      return [
        task("strip", "tear-off", strip, [], { opens: true, units: count }),
        task("wrap", "wrb", wrap, ["strip"], { units: count }),
        task("set", "windows", set, ["wrap"], { units: count, closes: true }),
        task("trim", "trim", hours(8, 20), ["set"]),
        task("side", "siding", hours(16, 36), [random.next() < 0.5 ? "trim" : "set"]),
        cured("caulk", "caulk", hours(5, 12), "side", 24),
      ];
    },
    windows: () => {
      const [strip, set] = [hours(6, 10), hours(10, 18)];
      const count = units(strip, set);
      return [
        task("strip", "tear-off", strip, [], { opens: true, units: count }),
        task("set", "windows", set, ["strip"], { units: count, closes: true }),
        task("trim", "trim", hours(6, 14), ["set"]),
        cured("caulk", "caulk", hours(4, 10), "trim", random.next() < 0.5 ? 12 : 24),
      ];
    },
    "stone-skirt": () => [
      task("lath", "wrb", hours(6, 12), []),
      { id: "look", trade: null, title: "Lath inspection", waitBusinessDays: 1, after: [{ task: "lath" }] },
      task("stone", "stone", hours(16, 40), ["look"]),
      cured("joints", "caulk", hours(4, 8), "stone", 48),
    ],
    gable: () => [
      task("trim", "trim", hours(6, 16), []),
      task("side", "siding", hours(10, 24), []),
      cured("caulk", "caulk", hours(4, 10), "side", 24),
      {
        id: "walk",
        trade: null,
        title: "Final inspection",
        waitBusinessDays: 1 + random.below(2),
        after: [{ task: "trim" }, { task: "caulk" }],
      },
    ],
  };
  const chosen: TaskInput[][] = [];
  for (let tries = 0; tries < 200; tries++) {
    chosen.length = 0;
    for (let house = 0; house < houses; house++) {
      const kind = kinds[random.below(kinds.length)];
      if (kind) chosen.push(build[kind]());
    }
    const all = chosen.flat();
    const isPlanned = all.every(({ trade }) => trade === null || trades.has(trade));
    if (isPlanned && all.length >= 8 && all.length <= MOST_TASKS) return chosen;
  }
  throw new Error("no houses of these kinds have 8 to 12 tasks that the crews can do");
}

function task(
  id: string,
  trade: string,
  laborHours: number,
  after: readonly string[],
  more: Partial<TaskInput> = {},
): TaskInput {
  return {
    id,
    trade,
    title: `${id} ${trade}`,
    area: "front",
    laborHours,
    after: after.map((before) => ({ task: before })),
    ...more,
  };
}

function cured(id: string, trade: string, laborHours: number, after: string, lagHours: number): TaskInput {
  return { ...task(id, trade, laborHours, []), after: [{ task: after, lagHours }] };
}
