/**
 * Instance files are lines of blank-separated words. This reads them one by one and names file and line in every
 * complaint, so that a damaged file is found and not half read.
 */

/** A file that is no instance of its family: the message names file, line and what is wrong. */
export class InstanceFault extends Error {
  constructor(file: string, line: number, sentence: string) {
    super(`${file}, line ${line}: ${sentence}`);
    this.name = "InstanceFault";
  }
}

export interface Line {
  /** From 1. */
  readonly number: number;
  readonly text: string;
  /** Blank-separated; never empty. */
  readonly words: readonly string[];
}

/** The lines of a file that are not blank, from top to bottom. */
export class InstanceLines {
  private readonly lines: readonly Line[];
  private readonly lastLine: number;
  private place = 0;

  constructor(
    readonly file: string,
    text: string,
  ) {
    const all = text.split(/\r\n|\r|\n/);
    this.lastLine = all.length;
    this.lines = all.flatMap((line, index) => {
      const words = line.trim().split(/\s+/);
      return line.trim() === "" ? [] : [{ number: index + 1, text: line.trim(), words }];
    });
  }

  /** The next line; `what` says what it should be, for the complaint where the file has ended. */
  next(what: string): Line {
    const line = this.lines[this.place];
    if (line === undefined) throw new InstanceFault(this.file, this.lastLine, `the file ends before ${what}`);
    this.place += 1;
    return line;
  }

  /** Skips to the line that starts with `start` and returns it. */
  skipTo(start: string): Line {
    const line = this.lines.find((one, index) => index >= this.place && one.text.startsWith(start));
    if (line === undefined) {
      throw new InstanceFault(this.file, this.lastLine, `no line starts with "${start}"`);
    }
    this.place = this.lines.indexOf(line) + 1;
    return line;
  }

  /** The next line as whole numbers of at least 0. */
  nextNumbers(what: string): NumberLine {
    return this.toNumbers(this.next(what), what);
  }

  toNumbers(line: Line, what: string): NumberLine {
    return new NumberLine(this, line, what);
  }

  fault(line: Line, sentence: string): InstanceFault {
    return new InstanceFault(this.file, line.number, sentence);
  }

  /** Complains about anything but a separator that is left. */
  refuseRest(separator: RegExp): void {
    for (let line = this.lines[this.place]; line !== undefined; line = this.lines[this.place]) {
      if (!separator.test(line.text)) {
        throw this.fault(line, `nothing was expected after the end, found "${line.text}"`);
      }
      this.place += 1;
    }
  }
}

/** One line of whole numbers, taken from left to right. */
export class NumberLine {
  private place = 0;

  constructor(
    private readonly lines: InstanceLines,
    readonly line: Line,
    private readonly what: string,
  ) {}

  /** Whole number of at least `least`, and at most `most`. */
  take(name: string, least = 0, most = 2_000_000_000): number {
    const word = this.line.words[this.place];
    if (word === undefined) throw this.fault(`${this.what} ends before ${name}`);
    this.place += 1;
    if (!/^\d+$/.test(word)) throw this.fault(`${name} should be a whole number, found "${word}"`);
    const value = Number(word);
    if (value < least || value > most) {
      throw this.fault(`${name} should be between ${least} and ${most}, found ${word}`);
    }
    return value;
  }

  takeMany(count: number, name: string, least = 0, most = 2_000_000_000): number[] {
    return Array.from({ length: count }, (_, index) => this.take(`${name} ${index + 1}`, least, most));
  }

  /** Complains about words that are left. */
  end(): void {
    const word = this.line.words[this.place];
    if (word !== undefined) throw this.fault(`${this.what} should have ended before "${word}"`);
  }

  fault(sentence: string): InstanceFault {
    return this.lines.fault(this.line, sentence);
  }
}
