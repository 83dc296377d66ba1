/**
 * What a command may do to the outside: write, and end with a number. Tests and the real command share the contract.
 */

export interface Output {
  /** Standard output: the answer, and nothing else. */
  readonly out: (text: string) => void;
  /** Standard error: what is wrong. */
  readonly err: (text: string) => void;
}

/** 0 good; 1 rules broken, or tasks that are impossible; 2 input that cannot be used. */
export type ExitCode = 0 | 1 | 2;

export const GOOD = 0;
export const BROKEN = 1;
export const UNUSABLE = 2;
