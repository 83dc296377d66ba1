/**
 * `npm run bench`: the planner measured against published results, and the company planner against its bars. Prints
 * tables, writes a JSON. A bar that is missed is a result; an answer that breaks a rule of its file, or is better than
 * a proven bound allows, is an error, and the exit code says so.
 */
import { availableParallelism } from "node:os";
import { takeMeasure, type TakenMeasure } from "./company/measure-run.js";
import { MEASURES } from "./company/measures.js";
import { parseOptions, USAGE, type BenchOptions } from "./options.js";
import { benchmarksFolder } from "./places.js";
import { isHere, listRuns, runSet } from "./published-run.js";
import { PUBLISHED_SETS } from "./published-sets.js";
import { formatBudget, formatFaults, formatMeasures, formatSets, listFaults } from "./report.js";
import { ResultsFile } from "./results-file.js";
import type { SetScore } from "./score.js";

/** On an idle machine the load is near 0; half a core taken by others shows in the figures. */
const BUSY_LOAD = 0.5;

process.exitCode = await main(process.argv.slice(2));

async function main(args: readonly string[]): Promise<number> {
  if (args.includes("--help")) {
    console.log(USAGE);
    return 0;
  }
  const names = [...PUBLISHED_SETS.map((set) => set.name), ...MEASURES.keys()];
  const options = parseOptions(args, names, availableParallelism());
  if (!options.ok) {
    console.error(options.error);
    return 2;
  }
  return measure(options.value);
}

async function measure(options: BenchOptions): Promise<number> {
  const file = new ResultsFile(options, new Date());
  const scores: SetScore[] = [];
  const taken: TakenMeasure[] = [];
  const benchmarks = benchmarksFolder();
  const asked = PUBLISHED_SETS.filter(({ name }) => options.sets.includes(name));
  const absent = asked.filter((set) => !isHere(benchmarks, set)).map(({ name }) => name);
  if (absent.length > 0) {
    console.log(`Left out, for their files are not in ${benchmarks}: ${absent.join(", ")}.`);
    console.log("The environment variable BENCHMARKS may name another folder.");
  }
  for (const set of asked.filter(({ name }) => !absent.includes(name))) {
    for (const run of listRuns(set, options.budget)) {
      console.error(`${set.name}, ${formatBudget(run)} …`);
      scores.push(await runSet(benchmarks, set, run, options));
      file.write(scores, taken);
    }
  }
  for (const [name, one] of MEASURES) {
    if (!options.sets.includes(name)) continue;
    console.error(`${name} …`);
    taken.push(...(await takeMeasure(name, one)));
    file.write(scores, taken);
  }
  const faults = listFaults(scores, taken);
  if (scores.length > 0) console.log(`\n${formatSets(scores)}`);
  if (taken.length > 0) console.log(`\n${formatMeasures(taken)}`);
  if (faults.length > 0) console.log(`\n${formatFaults(faults)}`);
  if (file.loadAtStart > BUSY_LOAD) {
    console.log(
      `\nThe machine was busy (load ${file.loadAtStart.toFixed(1)}): what depends on time is worse than it is.`,
    );
  }
  if (scores.length + taken.length > 0) console.log(`\nEvery answer: ${file.path}`);
  return faults.length > 0 ? 1 : 0;
}
