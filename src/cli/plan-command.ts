/**
 * `daylap plan`: plans a company file and prints each crew's next day, or the whole plan as JSON. Shows on a terminal how
 * far it is; Ctrl+C prints the best plan so far.
 */
import { writePlanningLine } from "../board/planning-line.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import { machineClock } from "../services/clock.js";
import type { PlanningOptions } from "../services/pending-plan.js";
import { USUAL_SEED } from "../services/planning-budget.js";
import type { PlanningBudget, PlanningProgress } from "../services/planning-messages.js";
import { startPlanningWorker } from "../services/planning-worker.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import { parseWhole, type Words } from "./command-line.js";
import { readCompanyArgument } from "./company-argument.js";
import { writeNextDays } from "./next-day-text.js";
import { BROKEN, GOOD, type ExitCode, type Output } from "./output.js";

export const planCommand: Command = {
  grammar: {
    command: "plan",
    values: { "as-of": "TIME", seed: "N", iterations: "N", milliseconds: "N" },
    switches: ["json"],
    files: ["a company file"],
  },
  usage: "daylap plan FILE [--as-of TIME] [--seed N] [--iterations N | --milliseconds N] [--json]",
  summary: "print each crew's next day, or the whole plan as JSON; Ctrl+C prints the best plan so far",
  run: runPlan,
};

const MOST_MILLISECONDS = 24 * 3_600_000;

async function runPlan(words: Words, output: Output): Promise<ExitCode> {
  const seed = parseWhole(words, "seed", { least: 0, most: 2 ** 32 - 1, usual: USUAL_SEED });
  const budget = parseBudget(words);
  const read = await readCompanyArgument(words.files[0] ?? "");
  // Without a sound company there is no zone of its own; the option's form can be told all the same.
  const asOf = parseAsOf(words, read.ok ? read.value.company.company.timeZone : "UTC");
  if (!seed.ok || !budget.ok || !asOf.ok || !read.ok) {
    const options = [seed, asOf].flatMap((option) => (option.ok ? [] : [option.error]));
    return refuse(output, [...options, ...(budget.ok ? [] : budget.error), ...(read.ok ? [] : read.error)]);
  }
  const { company } = read.value;
  const options = { asOf: asOf.value ?? machineClock(), seed: seed.value, ...budget.value };
  const plan = await planWatched(company, options, output);
  output.out(
    words.switches.has("json") ? `${JSON.stringify(plan, null, 2)}\n` : writeNextDays(company, plan),
  );
  return plan.impossible.length === 0 ? GOOD : BROKEN;
}

/** The budget that is asked for; nothing is the usual one. */
function parseBudget(words: Words): Result<PlanningBudget, readonly string[]> {
  if (words.values.has("iterations") && words.values.has("milliseconds")) {
    return fail([
      "The options --iterations and --milliseconds do not go together: " +
        "count tries to get the same plan again, or time to wait no longer.",
    ]);
  }
  const limits = [
    ["iterations", 0, 1e9],
    ["milliseconds", 1, MOST_MILLISECONDS],
  ] as const;
  for (const [name, least, most] of limits) {
    if (!words.values.has(name)) continue;
    const limit = parseWhole(words, name, { least, most, usual: least });
    return limit.ok ? ok({ [name]: limit.value }) : fail([limit.error]);
  }
  return ok({});
}

/** Plans while a person may watch and interrupt. */
async function planWatched(company: Company, options: PlanningOptions, output: Output): Promise<Plan> {
  const worker = startPlanningWorker();
  const watch = new Watch(output);
  const stopListening = output.onInterrupt?.(() => watch.interrupt());
  try {
    const { signal, onProgress } = watch;
    return await worker.plan(company, { ...options, signal, onProgress });
  } finally {
    stopListening?.();
    watch.end();
    await worker.close();
  }
}

/** What is shown of a search, and its stop. */
class Watch {
  readonly #stop = new AbortController();
  readonly #output: Output;
  #fromCost: number | undefined;
  #isInterrupted = false;

  constructor(output: Output) {
    this.#output = output;
  }

  get signal(): AbortSignal {
    return this.#stop.signal;
  }

  readonly onProgress = ({ iteration, cost }: PlanningProgress): void => {
    this.#fromCost ??= cost;
    this.#output.status?.(writePlanningLine({ iteration, cost, fromCost: this.#fromCost }));
    if (this.#isInterrupted) this.#stop.abort();
  };

  /** Before the first progress there is no plan to print, so that one is waited for. */
  interrupt(): void {
    this.#isInterrupted = true;
    if (this.#fromCost !== undefined) this.#stop.abort();
  }

  end(): void {
    this.#output.status?.("");
    if (this.#isInterrupted) {
      this.#output.err("Planning was stopped before its end. This is the best plan so far.\n");
    }
  }
}
