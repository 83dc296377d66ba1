/** `daylap plan`: plans a company file and prints each crew's next day, or the whole plan as JSON. */
import { machineClock } from "../services/clock.js";
import { USUAL_ITERATIONS, USUAL_SEED } from "../services/planning-budget.js";
import { planCompany } from "../planner/plan.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import { parseWhole, type Words } from "./command-line.js";
import { readCompanyArgument } from "./company-argument.js";
import { writeNextDays } from "./next-day-text.js";
import { BROKEN, GOOD, type ExitCode, type Output } from "./output.js";

export const planCommand: Command = {
  grammar: {
    command: "plan",
    values: { "as-of": "TIME", seed: "N", iterations: "N" },
    switches: ["json"],
    files: ["a company file"],
  },
  usage: "daylap plan FILE [--as-of TIME] [--seed N] [--iterations N] [--json]",
  summary: "print each crew's next day, or the whole plan as JSON",
  run: runPlan,
};

async function runPlan(words: Words, output: Output): Promise<ExitCode> {
  const seed = parseWhole(words, "seed", { least: 0, most: 2 ** 32 - 1, usual: USUAL_SEED });
  const iterations = parseWhole(words, "iterations", { least: 0, most: 1e9, usual: USUAL_ITERATIONS });
  const read = await readCompanyArgument(words.files[0] ?? "");
  // Without a sound company there is no zone of its own; the option's form can be told all the same.
  const asOf = parseAsOf(words, read.ok ? read.value.company.company.timeZone : "UTC");
  if (!seed.ok || !iterations.ok || !asOf.ok || !read.ok) {
    const options = [seed, iterations, asOf].flatMap((option) => (option.ok ? [] : [option.error]));
    return refuse(output, [...options, ...(read.ok ? [] : read.error)]);
  }
  const { company } = read.value;
  const plan = planCompany(company, {
    asOf: asOf.value ?? machineClock(),
    seed: seed.value,
    iterations: iterations.value,
  });
  output.out(
    words.switches.has("json") ? `${JSON.stringify(plan, null, 2)}\n` : writeNextDays(company, plan),
  );
  return plan.impossible.length === 0 ? GOOD : BROKEN;
}
