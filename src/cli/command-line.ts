/**
 * Reads the words behind a command: options with and without values, and the files it takes.
 * Every fault is a sentence that names the word; all are told at once.
 */
import { parseArgs } from "node:util";
import { fail, ok, type Result } from "../domain/result.js";

/** What a command takes. The key of an option is its name without the dashes. */
export interface Grammar {
  readonly command: string;
  /** Options that take a value, with the word that stands for it in the usage. */
  readonly values: Readonly<Record<string, string>>;
  /** Options that are there or not. */
  readonly switches: readonly string[];
  /** What each word without dashes is, all of them needed. */
  readonly files: readonly string[];
}

export interface Words {
  readonly values: ReadonlyMap<string, string>;
  readonly switches: ReadonlySet<string>;
  /** As many as the grammar names. */
  readonly files: readonly string[];
}

/** The words by the grammar, or what is wrong with them. */
export function parseWords(args: readonly string[], grammar: Grammar): Result<Words, readonly string[]> {
  const { tokens } = parseArgs({
    args: [...args],
    options: Object.fromEntries([
      ...Object.keys(grammar.values).map((name) => [name, { type: "string" }] as const),
      ...grammar.switches.map((name) => [name, { type: "boolean" }] as const),
    ]),
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const faults: string[] = [];
  const values = new Map<string, string>();
  const switches = new Set<string>();
  const files: string[] = [];
  for (const token of tokens) {
    if (token.kind === "positional") files.push(token.value);
    if (token.kind !== "option") continue;
    const { name, rawName, value } = token;
    if (Object.hasOwn(grammar.values, name)) {
      if (values.has(name)) faults.push(`The option ${rawName} is given twice.`);
      if (value === undefined || value === "" || (value.startsWith("-") && !token.inlineValue)) {
        faults.push(`The option ${rawName} needs a value: ${rawName} ${grammar.values[name]}.`);
      } else values.set(name, value);
    } else if (grammar.switches.includes(name)) {
      if (value !== undefined) faults.push(`The option ${rawName} takes no value, but "${value}" is given.`);
      switches.add(name);
    } else faults.push(`There is no option ${rawName} for "daylap ${grammar.command}".`);
  }
  for (const [index, what] of grammar.files.entries()) {
    if (files[index] === undefined) faults.push(`"daylap ${grammar.command}" needs ${what}.`);
  }
  for (const extra of files.slice(grammar.files.length)) {
    faults.push(`"daylap ${grammar.command}" does not know what to do with "${extra}".`);
  }
  return faults.length === 0 ? ok({ values, switches, files }) : fail(faults);
}

/** The whole number that an option has, from `least` to `most`; `usual` where it is not given. */
export function parseWhole(
  words: Words,
  name: string,
  { least, most, usual }: { readonly least: number; readonly most: number; readonly usual: number },
): Result<number, string> {
  const text = words.values.get(name);
  if (text === undefined) return ok(usual);
  const value = /^\d{1,15}$/.test(text) ? Number(text) : NaN;
  if (value >= least && value <= most) return ok(value);
  return fail(`The option --${name} is "${text}"; it must be a whole number from ${least} to ${most}.`);
}
