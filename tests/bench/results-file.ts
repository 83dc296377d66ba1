/** The JSON beside the table: every answer, and on what machine and which state of the code it was measured. */
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { arch, availableParallelism, cpus, loadavg, platform } from "node:os";
import { join } from "node:path";
import type { TakenMeasure } from "./company/measure-run.js";
import type { BenchOptions } from "./options.js";
import { RESULTS_FOLDER } from "./places.js";
import type { SetScore } from "./score.js";

export class ResultsFile {
  readonly path: string;
  /** Processes that wanted a core in the minute before; 0 where the system does not say. */
  readonly loadAtStart = loadavg()[0] ?? 0;
  private readonly head: object;

  constructor(options: BenchOptions, now: Date) {
    mkdirSync(RESULTS_FOLDER, { recursive: true });
    const stamp = now.toISOString().slice(0, 19).replaceAll(":", "-");
    this.path = join(RESULTS_FOLDER, `bench-${stamp}.json`);
    this.head = {
      format: "daylap-bench/1",
      measuredAt: now.toISOString(),
      commit: findCommit() ?? null,
      machine: {
        node: process.version,
        platform: `${platform()} ${arch()}`,
        processor: cpus()[0]?.model ?? "unknown",
        cores: availableParallelism(),
      },
      options,
    };
  }

  /** Replaces what was written before: a run that is stopped leaves what it has measured. */
  write(sets: readonly SetScore[], company: readonly TakenMeasure[]): void {
    const measured = { ...this.head, loadAtStart: this.loadAtStart, sets, company };
    writeFileSync(this.path, `${JSON.stringify(measured, null, 1)}\n`);
  }
}

/** The commit that is checked out, `-dirty` where files differ from it; undefined outside a repository. */
function findCommit(): string | undefined {
  try {
    return execFileSync("git", ["describe", "--always", "--dirty"], {
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    }).trim();
  } catch {
    return undefined;
  }
}
