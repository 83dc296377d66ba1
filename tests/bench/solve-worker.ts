/** The process that solves instances for the bench: a message in, an answer out, one at a time. */
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { READERS } from "./families.js";
import { solve } from "./solve.js";
import { toFailure, type SolveMessage, type SolveReply } from "./solve-message.js";

function answer({ path, family, budget, seed }: SolveMessage): SolveReply {
  try {
    const instance = READERS[family](basename(path), readFileSync(path, "utf8"));
    return { criticalPathMinutes: instance.criticalPathMinutes, solved: solve(instance, budget, seed) };
  } catch (error) {
    return toFailure(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
}

// The bench is the only one who sends.
process.on("message", (message) => process.send?.(answer(message as SolveMessage)));
