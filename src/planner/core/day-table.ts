/**
 * One interval for each row and day, computed when it is first asked for and kept in typed arrays:
 * a year of light for a hundred houses is not computed, nor given room, to plan three weeks.
 */

/** Days of one row that get room together; a power of two. */
const BLOCK_BITS = 6;
const BLOCK_DAYS = 1 << BLOCK_BITS;
/** End of a day that has not been computed. */
const UNKNOWN = -(2 ** 31);

export class DayTable {
  /** Start and end of each day of a block, one after the other. */
  private readonly blocks: (Int32Array | undefined)[];
  private readonly blocksOfRow: number;

  /** `compute` returns [start, end), or null for a day with none. */
  constructor(
    rows: number,
    private readonly days: number,
    private readonly compute: (
      row: number,
      day: number,
    ) => { readonly start: number; readonly end: number } | null,
  ) {
    this.blocksOfRow = (days >> BLOCK_BITS) + 1;
    this.blocks = Array.from({ length: rows * this.blocksOfRow }, () => undefined);
  }

  /** First minute; meaningless where `end` is not greater. */
  start(row: number, day: number): number {
    return this.read(row, day, 0);
  }

  /** The minute after the last; not greater than `start` on a day with none. */
  end(row: number, day: number): number {
    return this.read(row, day, 1);
  }

  private read(row: number, day: number, end: 0 | 1): number {
    if (day < 0 || day >= this.days)
      throw new RangeError(`day ${day} is outside the ${this.days} days of the table`);
    const at = row * this.blocksOfRow + (day >> BLOCK_BITS);
    const block = (this.blocks[at] ??= new Int32Array(2 * BLOCK_DAYS).fill(UNKNOWN));
    const place = 2 * (day & (BLOCK_DAYS - 1));
    if (block[place + 1] === UNKNOWN) {
      const interval = this.compute(row, day);
      block[place] = interval?.start ?? 0;
      block[place + 1] = interval?.end ?? 0;
    }
    return block[place + end] as number; // proof: place is inside the block
  }
}
