/**
 * Where the bench finds the published files and leaves its results. Counted from the compiled file, which lies in
 * dist-bench/code/tests/bench, so that the bench can be started from any folder.
 */
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../../..", import.meta.url));

/** The folder that BENCHMARKS names, or the one beside the repository. */
export function benchmarksFolder(): string {
  const named = process.env["BENCHMARKS"];
  return named === undefined || named === "" ? join(root, "../shared/benchmarks") : resolve(named);
}

/** Ignored by git. */
export const RESULTS_FOLDER = join(root, "dist-bench/results");

/** The compiled file beside this one, to be run as a process of its own. */
export function besides(path: string): string {
  return fileURLToPath(new URL(path, import.meta.url));
}

/** The demo company, with its dates still relative. */
export function seedFile(): string {
  return join(root, "seed/company.json");
}
