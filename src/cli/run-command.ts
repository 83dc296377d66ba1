/**
 * From the words behind `daylap` to an exit code: finds the command, reads its words, runs it.
 */
import { PRODUCT_NAME } from "../domain/product.js";
import { backupCommand } from "./backup-command.js";
import { checkCommand } from "./check-command.js";
import { refuse, type Command } from "./command.js";
import { parseWords } from "./command-line.js";
import { demoCommand } from "./demo-command.js";
import { GOOD, type ExitCode, type Output } from "./output.js";
import { ownerLinkCommand } from "./owner-link-command.js";
import { planCommand } from "./plan-command.js";
import { replayCommand } from "./replay-command.js";
import { restoreCommand } from "./restore-command.js";
import { schemaCommand } from "./schema-command.js";
import { serveCommand } from "./serve-command.js";

const COMMANDS: readonly Command[] = [
  planCommand,
  checkCommand,
  serveCommand,
  backupCommand,
  restoreCommand,
  replayCommand,
  ownerLinkCommand,
  demoCommand,
  schemaCommand,
];
const HELP: ReadonlySet<string> = new Set(["help", "--help", "-h"]);

/** Runs one command. Never throws for wrong input; what it throws is a bug. */
export async function runCommand(args: readonly string[], output: Output): Promise<ExitCode> {
  const [name, ...rest] = args;
  if (name === undefined) return refuse(output, [writeUsage(COMMANDS)]);
  if (HELP.has(name)) {
    output.out(`${writeUsage(COMMANDS)}\n`);
    return GOOD;
  }
  const command = COMMANDS.find(({ grammar }) => grammar.command === name);
  if (command === undefined) {
    const names = COMMANDS.map(({ grammar }) => grammar.command).join(", ");
    return refuse(output, [`There is no command "${name}". The commands are ${names}.`]);
  }
  if (rest.some((word) => word === "--help" || word === "-h")) {
    output.out(`${writeUsage([command])}\n`);
    return GOOD;
  }
  const words = parseWords(rest, command.grammar);
  return words.ok
    ? command.run(words.value, output)
    : refuse(output, [...words.error, `Usage: ${command.usage}`]);
}

function writeUsage(commands: readonly Command[]): string {
  return [
    `${PRODUCT_NAME}: plans crew days by daylight.`,
    "",
    ...commands.flatMap(({ usage, summary }) => [`  ${usage}`, `      ${summary}`]),
    "",
    "TIME is ISO 8601, by the company's clock where it has no offset (UTC where there is none yet); now where it is left out.",
    "Exit codes: 0 good, 1 rules broken or impossible tasks, 2 input that cannot be used.",
  ].join("\n");
}
