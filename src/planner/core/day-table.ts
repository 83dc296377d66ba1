/**
 * One interval for each row and day, computed when it is first asked for and kept in typed arrays:
 * a year of light for a hundred houses is not computed to plan three weeks.
 */
export class DayTable {
  private readonly lo: Int32Array;
  private readonly hi: Int32Array;
  private readonly known: Uint8Array;

  /** `compute` returns [start, end), or null for a day with none. */
  constructor(
    rows: number,
    private readonly days: number,
    private readonly compute: (
      row: number,
      day: number,
    ) => { readonly start: number; readonly end: number } | null,
  ) {
    this.lo = new Int32Array(rows * days);
    this.hi = new Int32Array(rows * days);
    this.known = new Uint8Array(rows * days);
  }

  /** First minute; meaningless where `end` is not greater. */
  start(row: number, day: number): number {
    return this.lo[this.cell(row, day)] as number; // proof: cell() is inside the arrays or throws
  }

  /** The minute after the last; not greater than `start` on a day with none. */
  end(row: number, day: number): number {
    return this.hi[this.cell(row, day)] as number; // proof: as above
  }

  private cell(row: number, day: number): number {
    if (day < 0 || day >= this.days)
      throw new RangeError(`day ${day} is outside the ${this.days} days of the table`);
    const cell = row * this.days + day;
    if (this.known[cell] === 0) {
      const interval = this.compute(row, day);
      this.lo[cell] = interval?.start ?? 0;
      this.hi[cell] = interval?.end ?? 0;
      this.known[cell] = 1;
    }
    return cell;
  }
}
