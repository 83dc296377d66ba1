/** The command line of the bench: what to run, within which budget, in how many processes. */
import { fail, ok, type Result } from "../../src/domain/result.js";
import type { Budget } from "./judge.js";

export interface BenchOptions {
  /** Names of sets; all where none is named. */
  readonly sets: readonly string[];
  /** In place of the sets' own budgets. */
  readonly budget: Budget | undefined;
  /** So many instances of each set, evenly spread; all where undefined. */
  readonly only: number | undefined;
  /** Instances solved at a time, each in a process of its own. */
  readonly processes: number;
  readonly seed: number;
}

export const USAGE = `npm run bench -- [options]

  --set a,b        only these sets; "psplib" stands for all whose name starts with it
  --schedules N    this many schedules for each instance, in place of the sets' own budgets
  --seconds N      this many seconds for each instance, in place of the sets' own budgets
  --only N         only N instances of each set, evenly spread
  --processes N    instances solved at a time (2, or as many as there are cores if fewer)
  --seed N         seed of the search (1)
`;

/** The options that `args` spell, or one sentence. `setNames` are all there are, `cores` the machine's. */
export function parseOptions(
  args: readonly string[],
  setNames: readonly string[],
  cores: number,
): Result<BenchOptions, string> {
  let options: BenchOptions = {
    sets: setNames,
    budget: undefined,
    only: undefined,
    processes: Math.min(2, cores),
    seed: 1,
  };
  for (let index = 0; index < args.length; index += 2) {
    const name = args[index] ?? "";
    const value = args[index + 1];
    if (!(name in APPLY)) return fail(`There is no option "${name}".\n\n${USAGE}`);
    if (value === undefined) return fail(`The option "${name}" needs a value.`);
    // The check above is the proof.
    const applied = APPLY[name as keyof typeof APPLY](options, value, setNames);
    if (typeof applied === "string") return fail(`The option "${name}" ${applied}, found "${value}".`);
    if (applied.budget !== options.budget && options.budget !== undefined) {
      return fail("Give either schedules or seconds, once.");
    }
    options = applied;
  }
  return ok(options);
}

type Apply = (options: BenchOptions, value: string, setNames: readonly string[]) => BenchOptions | string;

const APPLY = {
  "--set": (options, value, setNames) => {
    const asked = value.split(",");
    const isAsked = (name: string): boolean =>
      asked.some((one) => name === one || name.startsWith(`${one}-`));
    const unknown = asked.find((one) => !setNames.some((name) => name === one || name.startsWith(`${one}-`)));
    if (unknown !== undefined) return `takes names out of ${setNames.join(", ")}`;
    return { ...options, sets: setNames.filter(isAsked) };
  },
  "--schedules": (options, value) =>
    withNumber(value, 1, (schedules) => ({ ...options, budget: { kind: "schedules", schedules } })),
  "--seconds": (options, value) =>
    /^\d+(\.\d+)?$/.test(value) && Number(value) > 0
      ? { ...options, budget: { kind: "seconds", seconds: Number(value) } }
      : "takes a number above 0",
  "--only": (options, value) => withNumber(value, 1, (only) => ({ ...options, only })),
  "--processes": (options, value) => withNumber(value, 1, (processes) => ({ ...options, processes })),
  "--seed": (options, value) => withNumber(value, 0, (seed) => ({ ...options, seed })),
} as const satisfies Readonly<Record<string, Apply>>;

function withNumber(
  value: string,
  least: number,
  make: (number: number) => BenchOptions,
): BenchOptions | string {
  return /^\d{1,9}$/.test(value) && Number(value) >= least
    ? make(Number(value))
    : `takes a whole number of at least ${least}`;
}
