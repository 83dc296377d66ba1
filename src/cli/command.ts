/**
 * What a command of `daylap` is: its words, what it does in a line, and its doing.
 */
import type { Grammar, Words } from "./command-line.js";
import { UNUSABLE, type ExitCode, type Output } from "./output.js";

export interface Command {
  readonly grammar: Grammar;
  /** Lines of the usage text: how it is written, and what it does. */
  readonly usage: string;
  readonly summary: string;
  readonly run: (words: Words, output: Output) => Promise<ExitCode>;
}

/** Tells what is wrong, one sentence a line, with nothing on standard output. */
export function refuse(output: Output, sentences: readonly string[]): ExitCode {
  output.err(sentences.map((sentence) => `${sentence}\n`).join(""));
  return UNUSABLE;
}
