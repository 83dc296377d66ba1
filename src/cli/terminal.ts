/**
 * What a terminal can do beyond taking text: one line that is written over, and Ctrl+C.
 */

/** A terminal, as far as a status line needs it. */
export interface Terminal {
  /** Of one line; 0 where nobody knows. */
  readonly columns: number;
  write(text: string): unknown;
}

const USUAL_COLUMNS = 80;
const TAKE_AWAY_LINE = "\r\x1b[2K";

/** Writes a line over the one before; cut to the terminal's width, for a line that wraps cannot be written over. */
export function statusOn(terminal: Terminal): (line: string) => void {
  return (line) => {
    terminal.write(TAKE_AWAY_LINE + line.slice(0, (terminal.columns || USUAL_COLUMNS) - 1));
  };
}

/** Listens for one Ctrl+C; the next one ends the process as if nobody had listened. */
export function onInterrupt(listener: () => void): () => void {
  process.once("SIGINT", listener);
  return () => {
    process.off("SIGINT", listener);
  };
}
