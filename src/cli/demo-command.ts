/** `daylap demo`: the demo company as a company file, with its dates laid around a day. */
import { civilDateAt } from "../domain/time.js";
import { machineClock } from "../services/clock.js";
import { layDemo, readDemoTemplate } from "../services/demo.js";
import { toCompanyText } from "../store/company-file-store.js";
import { parseAsOf } from "./as-of.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { GOOD, type ExitCode, type Output } from "./output.js";

export const demoCommand: Command = {
  grammar: { command: "demo", values: { "as-of": "TIME" }, switches: [], files: [] },
  usage: "daylap demo [--as-of TIME]",
  summary: "print the demo company file",
  run: runDemo,
};

async function runDemo(words: Words, output: Output): Promise<ExitCode> {
  const template = await readDemoTemplate();
  const asOf = parseAsOf(words, template.timeZone);
  if (!asOf.ok) return refuse(output, [asOf.error]);
  const today = civilDateAt(asOf.value ?? machineClock(), template.timeZone);
  output.out(toCompanyText(layDemo(template, today)));
  return GOOD;
}
