/** Runs the published sets: finds their files, has each instance solved in a process, scores the answers. */
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { parseBestKnown, spreadEvenly, type BestKnown } from "./best-known.js";
import type { BenchOptions } from "./options.js";
import { besides } from "./places.js";
import { askProcesses } from "./process-pool.js";
import type { BudgetWithBar, PublishedSet } from "./published-sets.js";
import { scoreSet, type SetScore } from "./score.js";
import type { Budget } from "./judge.js";
import { toFailure, type SolveMessage, type SolveReply } from "./solve-message.js";

/** Whether the files of a set are here. */
export function isHere(benchmarks: string, set: PublishedSet): boolean {
  return existsSync(join(benchmarks, set.folder)) && existsSync(join(benchmarks, set.bestKnown));
}

/** The set's own budgets, or the one asked for, with the bar where the set has one for it. */
export function listRuns(set: PublishedSet, budget: Budget | undefined): readonly BudgetWithBar[] {
  if (budget === undefined) return set.runs;
  const own = set.runs.find((run) => isSame(run.budget, budget));
  return [{ budget, barPercent: own?.barPercent }];
}

export async function runSet(
  benchmarks: string,
  set: PublishedSet,
  run: BudgetWithBar,
  { only, processes, seed }: BenchOptions,
): Promise<SetScore> {
  const all = listInstances(benchmarks, set);
  const chosen = only === undefined ? all : spreadEvenly(all, only);
  const messages = chosen.map((bestKnown): SolveMessage => ({
    path: join(benchmarks, set.folder, bestKnown.instance + set.extension),
    family: set.family,
    budget: run.budget,
    seed,
  }));
  const replies = await askProcesses(
    besides("solve-worker.js"),
    processes,
    messages,
    // What solve-worker.ts sends.
    (reply) => reply as SolveReply,
    (_, why) => toFailure(why),
  );
  const answers = chosen.map((bestKnown, index) => ({
    ...(replies[index] ?? toFailure("it was not answered")),
    bestKnown,
  }));
  return scoreSet(set, run, all.length, answers);
}

/** The files of a set in the order of its table; a file without a row in the table is a fault of the folder. */
function listInstances(benchmarks: string, set: PublishedSet): readonly BestKnown[] {
  const rows = parseBestKnown(set.bestKnown, readFileSync(join(benchmarks, set.bestKnown), "utf8"));
  const files = new Set(
    readdirSync(join(benchmarks, set.folder))
      .filter((file) => file.endsWith(set.extension))
      .map((file) => file.slice(0, -set.extension.length)),
  );
  const listed = rows.filter((row) => files.has(row.instance));
  const known = new Set(listed.map((row) => row.instance));
  const unknown = [...files].find((file) => !known.has(file));
  if (unknown !== undefined) {
    throw new Error(`${set.folder}/${unknown}${set.extension} has no row in ${set.bestKnown}.`);
  }
  return listed;
}

function isSame(left: Budget, right: Budget): boolean {
  return left.kind === "schedules"
    ? right.kind === "schedules" && left.schedules === right.schedules
    : right.kind === "seconds" && left.seconds === right.seconds;
}
