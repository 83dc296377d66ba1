/** `daylap check`: whether a plan keeps the rules for a company file; every broken rule is a line. */
import { formatFault } from "../domain/company-file.js";
import { formatBroken } from "../planner/check/broken-rule.js";
import { checkPlan } from "../planner/check/check-plan.js";
import { readPlanFile } from "../services/plan-file.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { readCompanyArgument } from "./company-argument.js";
import { BROKEN, GOOD, type ExitCode, type Output } from "./output.js";

export const checkCommand: Command = {
  grammar: { command: "check", values: {}, switches: [], files: ["a company file", "a plan file"] },
  usage: "daylap check COMPANY PLAN",
  summary: "list every rule that a plan breaks",
  run: runCheck,
};

async function runCheck(words: Words, output: Output): Promise<ExitCode> {
  const [companyPath = "", planPath = ""] = words.files;
  const company = await readCompanyArgument(companyPath);
  const plan = await readPlanFile(planPath);
  if (!company.ok || !plan.ok) {
    return refuse(output, [
      ...(company.ok ? [] : company.error),
      ...(plan.ok ? [] : plan.error.map((fault) => `${planPath}: ${formatFault(fault)}`)),
    ]);
  }
  const broken = checkPlan(company.value.company, plan.value);
  const { impossible, tasks } = plan.value;
  for (const rule of broken) output.out(`${formatBroken(rule)}\n`);
  for (const { job, task, why } of impossible) output.out(`Impossible: ${job}, ${task}: ${why}\n`);
  output.out(
    broken.length === 0
      ? `The plan of ${tasks.length} tasks keeps every rule; ${impossible.length} are impossible.\n`
      : `The plan breaks rules in ${broken.length === 1 ? "1 place" : `${broken.length} places`}.\n`,
  );
  return broken.length === 0 && impossible.length === 0 ? GOOD : BROKEN;
}
