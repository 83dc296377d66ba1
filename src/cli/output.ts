/**
 * What a command may do to the outside: write, and end with a number. Tests and the real command share the contract.
 */

export interface Output {
  /** Standard output: the answer, and nothing else. */
  readonly out: (text: string) => void;
  /** Standard error: what is wrong. */
  readonly err: (text: string) => void;
  /** One line that is written over while something goes on; "" takes it away. Absent where nobody watches. */
  readonly status?: (line: string) => void;
  /**
   * Calls back at the first Ctrl+C instead of ending; the second one ends the process. Gives back what takes the
   * listener away. Absent: Ctrl+C ends the process.
   */
  readonly onInterrupt?: (listener: () => void) => () => void;
}

/** 0 good; 1 rules broken, or tasks that are impossible; 2 input that cannot be used. */
export type ExitCode = 0 | 1 | 2;

export const GOOD = 0;
export const BROKEN = 1;
export const UNUSABLE = 2;
