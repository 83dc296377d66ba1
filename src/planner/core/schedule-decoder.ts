/**
 * What the search knows of a problem: a decoder that turns an order and staffings into a schedule and its cost. Open time
 * and crew days have a decoder each; the search is the same.
 */

/** Compressed rows: the entries of row i are at `from[i]` … `from[i + 1] − 1`. */
export interface Rows {
  readonly from: Int32Array;
  readonly item: Int32Array;
  readonly value: Int32Array;
}

export interface ScheduleDecoder {
  /** How many activities there are; they are numbered from 0. */
  readonly count: number;
  /** What each activity follows (item) and by how many minutes (value); and what follows it. */
  readonly before: Rows;
  readonly behind: Rows;
  /** Of each activity, its staffings: crew (item, −1 for none or several) and minutes (value). */
  readonly staffings: Rows;
  /** Of each activity, a share of what it takes of the equipment there is; 0 where it takes none. */
  readonly load: Float64Array;
  /** Of each activity, the equipment that it takes (item) and how many of it (value); of each equipment, how many there are. */
  readonly uses: Rows;
  readonly capacity: Int32Array;
  /** Longest path from the start of each activity to the end of all. */
  readonly tails: Float64Array;
  /** Of each activity, the group that it belongs to (its job), counted from 0. */
  readonly group: Int32Array;
  readonly groupCount: number;
  /** Start and end of each activity in the last schedule decoded; backward ones count minutes from the end. */
  readonly start: Int32Array;
  readonly end: Int32Array;
  /** Of the last schedule decoded: of two equal costs, the lower tie is better. */
  readonly tie: number;
  /** Whether it can decode backward: the problem reads the same from its end. */
  readonly canMirror: boolean;
  /**
   * Decodes activities in an order that respects precedence in that direction, each with the given one of its
   * staffings (counted from 0); returns the cost, which in open time is the makespan.
   */
  decode(order: Int32Array, staffing: Int32Array, backward: boolean): number;
  /**
   * Where it can choose itself, the same forward: an activity whose staffing is −1 gets the one that is cheapest when its
   * turn comes, a day of delay being worth `dayValue`, and the choice is written into `staffing`.
   */
  decodeFreely?(order: Int32Array, staffing: Int32Array, dayValue: number): number;
}

/** Rows of (item, value) pairs, compressed. */
export function toRows(rows: readonly (readonly (readonly [number, number])[])[]): Rows {
  const from = new Int32Array(rows.length + 1);
  rows.forEach((row, index) => (from[index + 1] = (from[index] ?? 0) + row.length));
  const flat = rows.flat();
  return {
    from,
    item: Int32Array.from(flat, ([item]) => item),
    value: Int32Array.from(flat, ([, value]) => value),
  };
}
